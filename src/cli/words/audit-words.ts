import type { Audit } from '../../app/audit/index.js';
import { sentenceOf } from '../../core/reason-sentence.js';

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** Kinds as a person reads them; a kind that is not here is plain already. */
const KIND: Record<string, string> = {
  'patient-name': "a patient's name",
  'chart-number': "a patient's chart number",
  'birth-date': "a patient's birth date",
  'visit-date': 'the date of a visit',
  'source-metadata': "text of an original's metadata",
  'source-name': 'the name of a source file or folder',
  term: 'a term of your list',
  date: 'a date',
  phone: 'a telephone number',
  'e-mail': 'an e-mail address',
  handle: 'an account name',
  url: 'a web address',
  'network-address': 'a network address',
  'long-number': 'a long number',
  serial: 'something like a serial number',
  uid: 'an identifier of a device or an object',
  name: 'a name',
  age: 'an age above 89',
  location: 'a place',
  'text-in-picture': 'text in a picture',
};

const wordsFor = (kind: string): string => KIND[kind] ?? kind;

/** What an audit found, line by line, and last what it comes to. Never a value. */
export function auditLines(audit: Audit): string[] {
  const hits = audit.hits.map(({ file, where, kind }) => `${file}: ${wordsFor(kind)} (${where})`);
  const unread = audit.unread.map(
    ({ file, where, reason }) => `${file}: not read${where ? ` (${where})` : ''}. ${sentenceOf(reason)}`,
  );
  const possible = audit.possible.map(
    ({ file, where }) => `${file}: perhaps text in a picture (${where}); look at it.`,
  );
  return [...hits, ...unread, ...possible, verdict(audit)];
}

function verdict({ hits, unread, possible }: Audit): string {
  const looks = possible.length === 0 ? '' : ` ${counted(possible.length, 'place', 'places')} to look at.`;
  if (hits.length > 0) {
    const more = unread.length > 0 ? ` ${counted(unread.length, 'part was', 'parts were')} not read.` : '';
    return `Not clean: ${counted(hits.length, 'hit', 'hits')}.${more}${looks} Nothing of this should leave.`;
  }
  if (unread.length > 0)
    return `Nothing found, but ${counted(unread.length, 'part was', 'parts were')} not read, so this is not clean.${looks}`;
  return `Nothing found.${looks} A person still looks at each picture before it leaves.`;
}

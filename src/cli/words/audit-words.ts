import type { Audit } from '../../app/audit/index.js';
import { kindWords } from '../../app/audit/kind-words.js';
import { sentenceOf } from '../../core/reason-sentence.js';

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** What an audit found, line by line, and last what it comes to. Never a value. */
export function auditLines(audit: Audit): string[] {
  const hits = audit.hits.map(({ file, where, kind }) => `${file}: ${kindWords(kind)} (${where})`);
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

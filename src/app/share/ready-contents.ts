import { extname, join } from 'node:path';
import { type Practice, readPicture } from '../../practice/index.js';
import { displayPath } from '../display-path.js';
import type { MadeSheet } from '../sheet/make-sheet.js';
import type { StandingCase } from '../standing-case.js';
import { Trouble } from '../trouble.js';
import { type Content, sha256Of } from './outbox.js';

/** The bytes that would leave, read once: what is audited is what is copied. */
export interface ReadyContents {
  shareCode: string;
  template: string;
  sheet: Uint8Array;
  pictures: { number: number; extension: string; bytes: Uint8Array }[];
}

/** The sheet as it was drawn and, if wished, the display pictures that it shows; no others. */
export async function readContents(
  practice: Practice,
  { record, displays }: Pick<StandingCase, 'record' | 'displays'>,
  made: Extract<MadeSheet, { kind: 'made' }>,
  withPictures: boolean,
): Promise<ReadyContents> {
  const sheet = await readProven(practice, join(practice.root, made.sheet), made.sha256);
  const shown = new Set(made.shown.map(({ number }) => number));
  const wanted = withPictures ? record.pictures.filter(({ number }) => shown.has(number)) : [];
  const pictures = wanted.map(async (picture) => {
    const { number, file } = picture;
    const sha256 = displays.get(number);
    const path = displayPath(practice, record.case, picture, sha256);
    return { number, extension: extname(file).slice(1), bytes: await readProven(practice, path, sha256) };
  });
  const template = made.sheet.replace(/^.*\/|\.pdf$/g, '');
  return { shareCode: made.shareCode, template, sheet, pictures: await Promise.all(pictures) };
}

/** A file that somebody has changed since it was made is not what a person reviewed. */
async function readProven(practice: Practice, path: string, sha256: string | undefined): Promise<Uint8Array> {
  const read = await readPicture(practice, path);
  if (read.kind === 'kept' && sha256Of(read.value) === sha256) return read.value;
  throw new Trouble({
    code: 'disk',
    what: 'a picture or sheet of the case is missing or is no longer as it was made; take the visit in again',
  });
}

/**
 * "J2P0QA-referrer.pdf", "J2P0QA-referrer-03.jpg"; from the second version on "J2P0QA-referrer.v2.pdf". Nothing of a
 * source; a template's name has no dot, so no two sheets of one share code ever meet.
 */
export function contentsAt(
  { shareCode, template, sheet, pictures }: ReadyContents,
  version: number,
): Content[] {
  const suffix = version === 1 ? '' : `.v${version}`;
  return [
    { name: `${shareCode}-${template}${suffix}.pdf`, bytes: sheet },
    ...pictures.map(({ number, extension, bytes }) => ({
      name: `${shareCode}-${template}-${String(number).padStart(2, '0')}${suffix}.${extension}`,
      bytes,
    })),
  ];
}

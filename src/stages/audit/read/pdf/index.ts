import { latin1At, viewOf } from '../../../../formats/bytes.js';
import { type Reading, within } from '../../reading.js';
import type { ReadNext } from '../next.js';
import { readDrawn } from './drawn.js';
import { openObjects, readObjects } from './objects.js';
import { readingCopy } from './reading-copy.js';

/** The header may stand after up to a kilobyte of something else (ISO 32000-1, annex H.3, note 13). */
export const isPdf = (bytes: Uint8Array): boolean => latin1At(bytes, 0, 1024).includes('%PDF-');

const MOST_REVISIONS = 20;

/**
 * A PDF as it stands, and as it stood before each later change, since a change only adds to the end of the file. Read
 * twice over: by its objects (strings, names, attachments), and as drawn, through the fonts' own maps.
 * @returns false when something in it unpacks without end, so that nothing more of it should be unpacked
 */
export async function readPdf(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  next: ReadNext,
): Promise<boolean> {
  const start = viewOf(bytes).indexOf('%PDF-');
  const pdf = bytes.subarray(start);
  if (!(await readRevision(reading, pdf, where, next, true))) return false;
  const ends = earlierEnds(pdf);
  if (ends.length > MOST_REVISIONS)
    reading.unread(where, { code: 'unusual', format: 'PDF', what: 'more earlier states than can be read' });
  for (const [at, end] of ends.slice(0, MOST_REVISIONS).entries()) {
    await readRevision(reading, pdf.subarray(0, end), within(where, `earlier state ${at + 1}`), next, false);
  }
  return true;
}

/** Where each state but the last ends. */
function earlierEnds(pdf: Uint8Array): number[] {
  const file = viewOf(pdf);
  const ends: number[] = [];
  for (let at = file.indexOf('%%EOF'); at >= 0; at = file.indexOf('%%EOF', at + 5)) ends.push(at + 5);
  const last = ends.at(-1) ?? 0;
  const rest = file.subarray(last).toString('latin1');
  return /obj\b/.test(rest) ? ends : ends.slice(0, -1);
}

/** @param isWhole an earlier state may be the first half of a file that is written for the web: no state by itself */
async function readRevision(
  reading: Reading,
  pdf: Uint8Array,
  where: string,
  next: ReadNext,
  isWhole: boolean,
): Promise<boolean> {
  const objects = await openObjects(pdf);
  if (objects.kind === 'kept') {
    // What unpacks without end would do so in the other reader as well.
    if (!(await readObjects(reading, objects.value, where, next))) return false;
  } else if (isWhole) {
    reading.unread(where, objects.reason);
  }
  const drawn = await readDrawn(reading, pdf, where, (page) => `page ${page}`);
  if (drawn.kind !== 'kept' && isWhole) reading.unread(where, drawn.reason);
  if (objects.kind !== 'kept') return true;
  const copy = await readingCopy(objects.value);
  if (copy.kind !== 'kept') {
    if (isWhole) reading.unread(where, copy.reason);
    return true;
  }
  const { bytes, pages } = copy.value;
  const again = await readDrawn(reading, bytes, where, (page) => pages[page - 1] ?? 'undrawn part');
  if (again.kind !== 'kept' && isWhole) reading.unread(where, again.reason);
  return true;
}

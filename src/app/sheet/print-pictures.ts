import { readFile } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { keepsPicturesSealed, type Practice, writeAtomically } from '../../practice/index.js';
import { figuresOf, type SheetPlan } from '../../stages/sheet/index.js';
import type { CaseRecord, PictureRecord } from '../../trade/case-record.js';
import { inParallel } from '../in-parallel.js';
import type { Ports } from '../ports.js';
import { orTrouble, Trouble } from '../trouble.js';

export interface PrintPicture {
  jpeg: Uint8Array;
  widthPx: number;
  heightPx: number;
}

/** A record with where its display pictures lie and the SHA-256 of each, by number. */
export interface PicturesToPrint {
  record: CaseRecord;
  displays: ReadonlyMap<number, string>;
  pathOf(picture: PictureRecord): string;
}

/**
 * The pictures a sheet prints, at the size it prints them. Kept in private/cache under the size and the display
 * picture's own bytes, so that a sheet is rebuilt without opening a display picture.
 */
export async function printPictures(
  practice: Practice,
  ports: Ports,
  { record, displays, pathOf }: PicturesToPrint,
  plan: SheetPlan,
): Promise<Map<number, PrintPicture>> {
  const figures = figuresOf(plan);
  let done = 0;
  const made = await inParallel(figures, ports.workersAtOnce, async (figure) => {
    const picture = record.pictures.find((one) => one.number === figure.number);
    const sha256 = displays.get(figure.number);
    if (!picture || !sha256) throw new Trouble({ code: 'bug', what: 'a figure without its picture' });
    const print = await printPicture(practice, ports, { path: pathOf(picture), sha256 }, figure);
    done += 1;
    ports.progress(done, figures.length, 'drawing the sheet');
    return [figure.number, print] as const;
  });
  return new Map(made);
}

interface PrintSize {
  maxWidthPx: number;
  maxHeightPx: number;
  grey: boolean;
}

async function printPicture(
  practice: Practice,
  ports: Ports,
  display: { path: string; sha256: string },
  { maxWidthPx, maxHeightPx, grey }: PrintSize,
): Promise<PrintPicture> {
  const key = `${display.sha256}-${maxWidthPx}x${maxHeightPx}${grey ? 'g' : 'c'}`;
  const cached = join(practice.paths.cache, `${key}.jpg`);
  // Of a picture that lies encrypted, or is not covered yet, no copy lies in clear.
  const mayCache = !keepsPicturesSealed(practice) || display.path.startsWith(join(practice.paths.cases, sep));
  const known = mayCache ? await readFile(cached).catch(() => null) : null;
  const stored = known && jpegSize(known);
  if (known && stored) return { jpeg: known, ...stored };
  const made = orTrouble(await ports.workers.reduce({ path: display.path, maxWidthPx, maxHeightPx, grey }));
  if (mayCache) orTrouble(await writeAtomically(cached, made.jpeg, { mode: 0o600 }));
  return { jpeg: made.jpeg, widthPx: made.widthPx, heightPx: made.heightPx };
}

/** Width and height from the frame header (ITU-T T.81, B.2.2) of a baseline JPEG that we wrote ourselves. */
function jpegSize(jpeg: Uint8Array): { widthPx: number; heightPx: number } | null {
  const view = new DataView(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength);
  for (let at = 2; at + 9 < jpeg.length; at += 2 + view.getUint16(at + 2)) {
    const marker = view.getUint16(at);
    if (marker >= 0xffc0 && marker <= 0xffc2) {
      return { heightPx: view.getUint16(at + 5), widthPx: view.getUint16(at + 7) };
    }
  }
  return null;
}

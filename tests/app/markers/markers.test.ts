import { readdirSync, readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { VisitReport } from '../../../src/app/report.js';
import type { Practice } from '../../../src/practice/index.js';
import { freshFolder, freshPractice, intake, reopen, testPorts, writeVisit } from '../small-practice.js';
import type { Place } from './plant.js';
import { holdsTail, marksIn } from './search.js';
import { type MarkedVisit, markedVisit } from './visit.js';

/** Places that must be in pictures that were taken: 2250 when this was written, one mark each. */
const LEAST_IN_KEPT = 2000;
const LEAST_BY_FORMAT = { '.jpg': 300, '.png': 100, '.tif': 100, '.webp': 100, '.heic': 100, '.dcm': 300 };
const MOST_IN_HELD = 100;

/** Pictures that are rightly held, so that nothing of them is shown, with what the reason must be. */
const HELD: Record<string, string> = {
  // its first three bytes are those of no JPEG
  'after-the-start.jpg': 'unknown-format',
  // elements that are none, and a picture that does not end with its end mark
  'after-the-end.dcm': 'damaged',
  'coded-after-the-end.dcm': 'damaged',
  'note.txt': 'unknown-format',
};

/**
 * Places within coded picture data that stripping does not reach, since it decodes nothing there. Their files lie in
 * private/; what leaves is drawn anew from pixels.
 */
const IN_PRIVATE_ONLY = [
  'PLTE, colours of no pixel, utf8',
  'VP8 , behind its picture, utf8',
  'VP8L, behind its picture, utf8',
  'in the last of many scans, behind its codes, utf8',
];

describe('a mark in every place that can hold one', () => {
  let visit: MarkedVisit;
  let practice: Practice;
  let report: VisitReport;
  let outside: string[];

  beforeAll(async () => {
    visit = await markedVisit();
    practice = await freshPractice();
    await writeFile(join(practice.root, 'practice.yaml'), visit.settings);
    practice = await reopen(practice.root);
    const folder = await writeVisit(join(await freshFolder(), visit.folder), visit.files);
    [report] = (await intake(practice, folder, testPorts())) as [VisitReport];
    outside = filesUnder(practice.root).filter(
      (path) => !/^(private|inbox)\//.test(relative(practice.root, path)),
    );
  }, 240_000);

  const kindOf = (file: string): string => file.split(' ').at(-1)!;
  const statusOf = (place: Place): string | undefined =>
    report.pictures.find(({ source }) => source === place.file)?.status;

  it('is found in the originals by the same search, each one', () => {
    const found = new Set<number | 'cut'>();
    for (const bytes of [...Object.values(visit.files), Buffer.from(visit.settings)])
      for (const mark of marksIn(bytes)) found.add(mark);
    for (const name of [visit.folder, ...Object.keys(visit.files)])
      for (const mark of marksIn(Buffer.from(name))) found.add(mark);
    expect(visit.places.filter(({ number }) => !found.has(number))).toEqual([]);
  });

  it('comes with a picture that is taken, but for those that are rightly held', () => {
    const held = report.pictures.filter(({ status }) => status !== 'kept');
    expect(Object.fromEntries(held.map(({ source, reason }) => [kindOf(source), reason?.code]))).toEqual(
      HELD,
    );
    expect([report.status, report.reason]).toEqual(['done', undefined]);
    const inKept = visit.places.filter((place) => statusOf(place) === 'kept');
    expect(inKept.length).toBeGreaterThanOrEqual(LEAST_IN_KEPT);
    for (const [ending, least] of Object.entries(LEAST_BY_FORMAT)) {
      const mine = inKept.filter(({ file }) => file?.endsWith(ending));
      expect([ending, mine.length >= least]).toEqual([ending, true]);
    }
  });

  it('stands in few places of pictures that are held', () => {
    const inHeld = visit.places.filter((place) => statusOf(place) === 'held');
    expect(inHeld.length).toBeGreaterThan(0);
    expect(new Set(inHeld.map(({ file }) => kindOf(file!)))).toEqual(new Set(Object.keys(HELD)));
    expect(inHeld.length).toBeLessThan(MOST_IN_HELD);
  });

  it('holds every free text of the sidecar that names the patient', () => {
    const fields = report.errors.map(({ field }) => field);
    for (const named of ['caption', 'pulp', 'note', 'recall', 'caries'])
      expect(fields.some((field) => field.endsWith(named))).toBe(true);
  });

  it('survives in no byte, packed or not, and in no name outside private/', () => {
    expect(outside.filter((path) => path.endsWith('.dcm')).length).toBeGreaterThanOrEqual(5);
    const images = outside.filter((path) => /\/images\/.*\.(png|jpg)$/.test(path));
    expect(images).toHaveLength(report.pictures.filter(({ status }) => status === 'kept').length);
    expect(outside.filter((path) => path.endsWith('.pdf'))).not.toEqual([]);
    expect(survivors(outside)).toEqual([]);
  });

  it('survives in no stripped file either, though those lie in private/, but within coded picture data', () => {
    const stripped = filesUnder(practice.paths.stripped);
    expect(stripped.length).toBeGreaterThanOrEqual(30);
    expect(
      survivors(stripped)
        .map(({ carrier }) => carrier)
        .sort(),
    ).toEqual(IN_PRIVATE_ONLY);
  });

  /** The settings are the practice's own text and no output. */
  function survivors(paths: string[]): { file: string; carrier: string | undefined }[] {
    return paths
      .filter((path) => relative(practice.root, path) !== 'practice.yaml')
      .flatMap((path) => {
        const bytes = readFileSync(path);
        const marks = [...marksIn(bytes), ...marksIn(Buffer.from(relative(practice.root, path)))];
        const carriers = marks.map((mark) =>
          mark === 'cut' ? 'a part of a mark' : visit.places[mark]?.carrier,
        );
        if (carriers.length === 0 && holdsTail(bytes)) carriers.push('the tail of a mark');
        return [...new Set(carriers)].map((carrier) => ({ file: relative(practice.root, path), carrier }));
      });
  }
});

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}

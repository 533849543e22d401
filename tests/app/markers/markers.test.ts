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

/** At least this many places must be in pictures that were taken. */
const LEAST_IN_KEPT = 300;

/** Pictures that are rightly held, so that nothing of them is shown, with what the reason must be. */
const HELD: Record<string, string> = {};

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
  });

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
    expect(report.reason).toBeUndefined();
    const inKept = visit.places.filter((place) => statusOf(place) === 'kept');
    console.log(`${visit.places.length} places, ${inKept.length} in kept pictures`);
    expect(inKept.length).toBeGreaterThanOrEqual(LEAST_IN_KEPT);
  });

  it('survives in no byte, packed or not, and in no name outside private/', () => {
    expect(outside.filter((path) => path.endsWith('.dcm')).length).toBeGreaterThanOrEqual(5);
    const images = outside.filter((path) => /\/images\/.*\.(png|jpg)$/.test(path));
    expect(images).toHaveLength(report.pictures.filter(({ status }) => status === 'kept').length);
    expect(outside.filter((path) => path.endsWith('.pdf'))).not.toEqual([]);
    expect(survivors(outside)).toEqual([]);
  });

  it('survives in no stripped file either, though those lie in private/', () => {
    const stripped = filesUnder(practice.paths.stripped);
    expect(stripped.length).toBeGreaterThanOrEqual(30);
    expect(survivors(stripped)).toEqual([]);
  });

  /** File by kind and carrier; the settings are the practice's own text and no output. */
  function survivors(paths: string[]): string[] {
    return paths
      .filter((path) => relative(practice.root, path) !== 'practice.yaml')
      .flatMap((path) => {
        const bytes = readFileSync(path);
        const marks = [...marksIn(bytes), ...marksIn(Buffer.from(relative(practice.root, path)))];
        const carriers = marks.map((mark) =>
          mark === 'cut' ? 'a part of a mark' : visit.places[mark]?.carrier,
        );
        if (holdsTail(bytes)) carriers.push('the tail of a mark');
        return [...new Set(carriers)].map((carrier) => `${relative(practice.root, path)}: ${carrier}`);
      });
  }
});

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}

import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  appendJournal,
  appendRegister,
  listHeld,
  listVisits,
  loadFound,
  loadPatients,
  readJournal,
  readPicture,
  readRegister,
  readReviews,
  readWholeJournal,
  saveHeld,
  storeOriginal,
} from '../../../src/practice/index.js';
import { journalLine, readJournalLines } from '../../../src/practice/journal-lines.js';
import { sealedSize } from '../../../src/practice/protection/age.js';
import { openEntries, sealEntry } from '../../../src/practice/protection/sealed-entry.js';
import { codeOf, freshPractice, keptValue } from '../scratch.js';
import { BOOK, filesWith, fill, NAME, PICTURE, protectedPractice, sha256 } from './protected.js';

describe('a practice that is not protected', () => {
  it('writes its records in clear, as it always did', async () => {
    const practice = await freshPractice();
    await fill(practice);
    expect(readFileSync(practice.paths.patients, 'utf8')).toBe(`${JSON.stringify(BOOK, null, 1)}\n`);
    expect(readFileSync(practice.paths.journal, 'utf8')).toContain(`"folder":"${NAME}"`);
    expect(existsSync(practice.paths.protection)).toBe(false);
  });
});

describe('a protected practice', () => {
  it('holds no name in clear, and every record comes back with the key', async () => {
    const { open } = await protectedPractice();
    expect(filesWith(open, NAME)).toEqual([]);
    expect(keptValue(await loadPatients(open))).toEqual(BOOK);
    expect(keptValue(await listVisits(open))[0]).toMatchObject({ id: 'V1', matches: true });
    expect(keptValue(await listHeld(open))).toEqual([{ id: 'h1', hold: { folder: NAME } }]);
    expect(keptValue(await loadFound(open, 'key'))).toEqual({ texts: [NAME] });
    expect(keptValue(await readRegister(open))).toMatchObject([{ kind: 'undone', id: NAME }]);
    expect(keptValue(await readReviews(open))[0]?.looks[0]?.sentence).toBe(NAME);
    expect(keptValue(await readWholeJournal(open)).map(({ kind }) => kind)).toEqual(['begun', 'held']);
    const path = join(open.paths.originals, `${sha256(PICTURE)}.jpg`);
    expect(Buffer.compare(keptValue(await readPicture(open, path)), PICTURE)).toBe(0);
  });

  it('says locked without the key, of everything that names somebody', async () => {
    const { locked } = await protectedPractice();
    const asked = [
      loadPatients(locked),
      listVisits(locked),
      listHeld(locked),
      loadFound(locked, 'key'),
      readRegister(locked),
      readReviews(locked),
      readWholeJournal(locked),
      readPicture(locked, join(locked.paths.originals, `${sha256(PICTURE)}.jpg`)),
    ];
    expect((await Promise.all(asked)).map(codeOf)).toEqual(asked.map(() => 'locked'));
    // Which code a drop was given names nobody, and an interrupted intake must find it.
    expect(keptValue(await readJournal(locked)).map(({ kind }) => kind)).toEqual(['begun']);
  });

  it('stores, holds and journals without the key, and nothing of it in clear', async () => {
    const { locked, open } = await protectedPractice();
    const picture = Buffer.from(`another of ${NAME}`);
    const path = keptValue(await storeOriginal(locked, picture, sha256(picture), 'png'));
    expect(existsSync(path)).toBe(false);
    expect(statSync(`${path}.age`).mode & 0o777).toBe(0o600);
    keptValue(await saveHeld(locked, 'h2', { folder: NAME }));
    keptValue(await appendJournal(locked, { kind: 'held', folder: NAME }));
    keptValue(await appendRegister(locked, { kind: 'undone', id: 'x', at: NAME }));
    expect(filesWith(locked, NAME)).toEqual([]);
    expect(Buffer.from(keptValue(await readPicture(open, path)))).toEqual(picture);
    expect(keptValue(await listHeld(open)).map(({ id }) => id)).toEqual(['h1', 'h2']);
    expect(keptValue(await readWholeJournal(open)).at(-1)).toEqual({ kind: 'held', folder: NAME });
  });

  it('stores an original once, with or without the key, and reports one that is damaged', async () => {
    const { locked, open } = await protectedPractice();
    const path = join(open.paths.originals, `${sha256(PICTURE)}.jpg.age`);
    const before = statSync(path, { bigint: true }).ino;
    keptValue(await storeOriginal(locked, PICTURE, sha256(PICTURE), 'jpg'));
    keptValue(await storeOriginal(open, PICTURE, sha256(PICTURE), 'jpg'));
    expect(statSync(path, { bigint: true }).ino).toBe(before);
    const sealed = readFileSync(path);
    expect(sealed.length).toBe(sealedSize(PICTURE.length));
    sealed[sealed.length - 1] = (sealed.at(-1) as number) ^ 1;
    writeFileSync(path, sealed);
    expect(codeOf(await storeOriginal(open, PICTURE, sha256(PICTURE), 'jpg'))).toBe('disk');
    writeFileSync(path, sealed.subarray(0, -1));
    expect(codeOf(await storeOriginal(locked, PICTURE, sha256(PICTURE), 'jpg'))).toBe('disk');
    expect(readFileSync(path).length).toBe(sealed.length - 1);
  });

  it('names a damaged record, takes it for nothing else and writes nothing over it', async () => {
    const { open } = await protectedPractice();
    const bytes = readFileSync(open.paths.patients);
    for (const at of [30, 60, 150, bytes.length - 1]) {
      const damaged = Buffer.from(bytes);
      damaged[at] = (damaged[at] as number) ^ 1;
      writeFileSync(open.paths.patients, damaged);
      expect(await loadPatients(open)).toEqual({
        kind: 'failed',
        reason: { code: 'ledger-damaged', file: 'patients', line: null },
      });
      expect(readFileSync(open.paths.patients)).toEqual(damaged);
    }
  });
});

describe('encrypted lines', () => {
  const entry = fc.record({
    kind: fc.constantFrom('held', 'refused'),
    folder: fc.string({ unit: 'binary' }),
  });

  it('come back, whatever they hold, and show nothing of it', async () => {
    const { open } = await protectedPractice();
    await fc.assert(
      fc.asyncProperty(fc.array(entry, { minLength: 1, maxLength: 4 }), async (entries) => {
        const sealed = await Promise.all(entries.map(async (one) => keptValue(await sealEntry(open, one))));
        const bytes = Buffer.concat(sealed.map(journalLine));
        const reading = readJournalLines(bytes);
        if (reading.kind !== 'sound') throw new Error(reading.kind);
        expect(keptValue(await openEntries(open, reading.entries, 'journal'))).toEqual(
          JSON.parse(JSON.stringify(entries)),
        );
        expect(sealed.every((one) => Object.keys(one).join() === 'kind,age')).toBe(true);
      }),
      { numRuns: 25 },
    );
  });

  it('cut anywhere are torn, flipped anywhere are damaged, and both show without the key', async () => {
    const { open } = await protectedPractice();
    const line = journalLine(keptValue(await sealEntry(open, { kind: 'held', folder: NAME })));
    fc.assert(
      fc.property(fc.nat(), fc.integer({ min: 1, max: 255 }), (seed, flip) => {
        const at = seed % (line.length - 1);
        const cut = readJournalLines(line.subarray(0, at + 1));
        expect(cut.kind === 'torn' || (cut.kind === 'sound' && cut.lacksEnd)).toBe(true);
        const flipped = Buffer.from(line);
        flipped[at] = (flipped[at] as number) ^ flip;
        expect(readJournalLines(flipped).kind).not.toBe('sound');
      }),
    );
  });

  it('name the line that cannot be opened', async () => {
    const { open } = await protectedPractice();
    const good = keptValue(await sealEntry(open, { kind: 'held', folder: NAME }));
    const foreign = { kind: 'sealed', age: Buffer.from('age-encryption.org/v1\nnot so').toString('base64') };
    expect(await openEntries(open, [good, foreign], 'journal')).toEqual({
      kind: 'failed',
      reason: { code: 'ledger-damaged', file: 'journal', line: 2 },
    });
  });
});

describe('the length of an encrypted file', () => {
  it('is foretold from that of the plain one, so that a cut shows without the key', async () => {
    const { open } = await protectedPractice();
    for (const size of [1, 65535, 65536, 65537, 131072, 200000]) {
      const bytes = Buffer.alloc(size, size % 251);
      const path = keptValue(await storeOriginal(open, bytes, sha256(bytes), 'bin'));
      expect(statSync(`${path}.age`).size).toBe(sealedSize(size));
    }
  });
});

import { appendFileSync, existsSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { appendJournal, Journal, type JournalEntry, readJournal } from '../../src/practice/index.js';
import { journalLine, readJournalLines } from '../../src/practice/journal-lines.js';
import { freshFolder, freshPractice, keptValue } from './scratch.js';

const entry = fc.record({
  kind: fc.string({ maxLength: 8 }),
  text: fc.string({ unit: 'binary', maxLength: 30 }),
});
const entries = fc.array(entry, { minLength: 1, maxLength: 6 });
const bytesOf = (list: readonly JournalEntry[]): Buffer => Buffer.concat(list.map(journalLine));
/** As they come back from JSON: a lone surrogate is written as an escape and stays one. */
const plain = (list: readonly JournalEntry[]): unknown => JSON.parse(JSON.stringify(list));

describe('journal lines', () => {
  it('give back what was written', () => {
    fc.assert(
      fc.property(entries, (list) => {
        expect(readJournalLines(bytesOf(list))).toEqual({
          kind: 'sound',
          entries: plain(list),
          lacksEnd: false,
        });
      }),
    );
  });

  it('cut anywhere: every whole line survives, and only the torn one is missing', () => {
    fc.assert(
      fc.property(entries, fc.nat(), (list, at) => {
        const whole = bytesOf(list);
        const cut = whole.subarray(0, at % (whole.length + 1));
        const newlines = cut.filter((byte) => byte === 0x0a).length;
        const reading = readJournalLines(cut);
        if (reading.kind === 'damaged') throw new Error('a cut is no damage');
        const isWholeButNewline = reading.kind === 'sound' && reading.lacksEnd;
        expect(reading.entries).toEqual(plain(list.slice(0, newlines + (isWholeButNewline ? 1 : 0))));
        if (reading.kind === 'torn') expect(reading.goodBytes).toBe(cut.lastIndexOf(0x0a) + 1);
      }),
    );
  });

  it('with a bit flipped anywhere: never a wrong entry, and a good earlier line never missing in silence', () => {
    fc.assert(
      fc.property(entries, fc.nat(), fc.nat(7), (list, at, bit) => {
        const bytes = bytesOf(list);
        const place = at % bytes.length;
        bytes[place] = (bytes[place] as number) ^ (1 << bit);
        const line = bytes.subarray(0, place).filter((byte) => byte === 0x0a).length;
        const reading = readJournalLines(bytes);
        if (reading.kind === 'damaged') {
          expect(reading.line).toBe(line + 1);
          return;
        }
        // Only the very last line can be taken for a torn one: its newline was hit.
        expect(place).toBe(bytes.length - 1);
        expect(reading.kind).toBe('torn');
        expect(reading.entries).toEqual(plain(list.slice(0, -1)));
      }),
    );
  });

  it('of any bytes whatever are read to an answer', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => readJournalLines(bytes).kind !== undefined),
    );
  });
});

describe('the journal', () => {
  it('keeps entries in order over sessions, for the owner alone', async () => {
    const practice = await freshPractice();
    expect(keptValue(await readJournal(practice))).toEqual([]);
    for (let n = 0; n < 3; n += 1) keptValue(await appendJournal(practice, { kind: 'stored', n }));
    expect(keptValue(await readJournal(practice)).map((one) => one['n'])).toEqual([0, 1, 2]);
    expect(statSync(practice.paths.journal).mode & 0o777).toBe(0o600);
  });

  it('cuts a torn last line when opened for writing, and keeps its bytes beside it', async () => {
    const path = join(freshFolder(), 'journal');
    const lines = bytesOf([{ kind: 'a' }, { kind: 'b' }]);
    writeFileSync(path, lines);
    truncateSync(path, lines.length - 4);
    const journal = keptValue(await Journal.open(path));
    expect(journal.entries()).toEqual([{ kind: 'a' }]);
    keptValue(await journal.append({ kind: 'c' }));
    expect(keptValue(await Journal.open(path)).entries()).toEqual([{ kind: 'a' }, { kind: 'c' }]);
    expect(readFileSync(`${path}.torn`, 'utf8')).toContain('{"kind":');
  });

  it('leaves a torn last line alone when only read, since it may still be being written', async () => {
    const practice = await freshPractice();
    writeFileSync(practice.paths.journal, bytesOf([{ kind: 'a' }, { kind: 'b' }]).subarray(0, -4));
    const before = readFileSync(practice.paths.journal);
    expect(keptValue(await readJournal(practice))).toEqual([{ kind: 'a' }]);
    expect(readFileSync(practice.paths.journal)).toEqual(before);
  });

  it('ends a line that lacks nothing but its newline', async () => {
    const path = join(freshFolder(), 'journal');
    writeFileSync(path, bytesOf([{ kind: 'a' }, { kind: 'b' }]).subarray(0, -1));
    const journal = keptValue(await Journal.open(path));
    keptValue(await journal.append({ kind: 'c' }));
    expect(readFileSync(path)).toEqual(bytesOf([{ kind: 'a' }, { kind: 'b' }, { kind: 'c' }]));
    expect(existsSync(`${path}.torn`)).toBe(false);
  });

  it('refuses to go on after a damaged line, naming it, and writes nothing', async () => {
    const practice = await freshPractice();
    const bytes = bytesOf([{ kind: 'a' }, { kind: 'b' }, { kind: 'c' }]);
    bytes[40] = 0x21;
    writeFileSync(practice.paths.journal, bytes);
    const refusal = { kind: 'failed', reason: { code: 'ledger-damaged', file: 'journal', line: 2 } };
    expect(await appendJournal(practice, { kind: 'd' })).toEqual(refusal);
    expect(await readJournal(practice)).toEqual(refusal);
    expect(readFileSync(practice.paths.journal)).toEqual(bytes);
  });

  it('does not build upon lines it has not seen', async () => {
    const path = join(freshFolder(), 'journal');
    const journal = keptValue(await Journal.open(path));
    appendFileSync(path, bytesOf([{ kind: 'of another' }]));
    expect(await journal.append({ kind: 'a' })).toMatchObject({ kind: 'failed', reason: { code: 'disk' } });
    expect(keptValue(await Journal.open(path)).entries()).toEqual([{ kind: 'of another' }]);
  });

  it.each(['write', 'sync'] as const)('is as before when the disk fails at %s', async (step) => {
    const path = join(freshFolder(), 'journal');
    const journal = keptValue(await Journal.open(path));
    keptValue(await journal.append({ kind: 'a' }));
    const before = readFileSync(path);
    const handle = await open('/dev/null', 'r');
    await handle.close();
    const prototype = Object.getPrototypeOf(handle) as FileHandle;
    const whole = prototype[step] as (...args: unknown[]) => Promise<unknown>;
    // The first write takes five bytes and the next one finds the disk full.
    let calls = 0;
    const spy = vi.spyOn(prototype, step).mockImplementation(function (this: FileHandle, ...args: unknown[]) {
      calls += 1;
      if (step === 'write' && calls === 1) return whole.call(this, args[0], 0, 5, null);
      return Promise.reject(Object.assign(new Error('full'), { code: 'ENOSPC' }));
    } as never);
    onTestFinished(() => spy.mockRestore());
    expect((await journal.append({ kind: 'b' })).kind).toBe('failed');
    spy.mockRestore();
    expect(readFileSync(path)).toEqual(before);
    keptValue(await journal.append({ kind: 'c' }));
    expect(keptValue(await Journal.open(path)).entries()).toEqual([{ kind: 'a' }, { kind: 'c' }]);
  });
});

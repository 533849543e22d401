import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { errorsOf, firstOf, read, SOUND, said } from './sidecar-text.js';

const bytes = (text: string, encoding: BufferEncoding): Uint8Array =>
  new Uint8Array(Buffer.from(text, encoding));

describe('the text of a sidecar', () => {
  it('may have a byte order mark, CRLF or CR line ends, and no last line end', () => {
    const plain = read(SOUND);
    for (const text of [
      `\uFEFF${SOUND}`,
      SOUND.replaceAll('\n', '\r\n'),
      SOUND.replaceAll('\n', '\r'),
      SOUND.trimEnd(),
    ]) {
      expect(read(text)).toEqual(plain);
    }
  });

  // YAML 1.2.2, chapter 5.2: a processor must read UTF-8 and UTF-16, told by a mark or by zero bytes
  it('may be UTF-16, told by its mark or its zero bytes', () => {
    const plain = read(SOUND);
    expect(read(bytes(`\uFEFF${SOUND}`, 'utf16le'))).toEqual(plain);
    expect(read(bytes(SOUND, 'utf16le'))).toEqual(plain);
    expect(read(Buffer.from(`\uFEFF${SOUND}`, 'utf16le').swap16())).toEqual(plain);
  });

  it('may be JSON, indented with tabs as well', () => {
    const json = {
      tooth: { fdi: 46 },
      patient: { chart: '007' },
      images: [{ file: 'a.jpg', stage: 'core', view: 'intraoral' }],
    };
    for (const indent of [undefined, 2, '\t']) {
      expect(firstOf(JSON.stringify(json, null, indent)).document).toMatchObject({
        patient: { chart: '007' },
        tooth: { fdi: 46 },
      });
    }
  });

  it('in another encoding is refused at the first odd character', () => {
    expect(errorsOf(bytes(SOUND.replace('finished', 'fin\u00efshed'), 'latin1'))).toMatchObject([
      { line: 2, column: 37 },
    ]);
  });

  it.each([
    ['empty', ''],
    ['only spaces', ' \n\n'],
    ['only a comment', '# later\n'],
    ['only dashes', '---\n'],
    ['a list', '- a\n- b\n'],
    ['a word', 'hello'],
    ['more than 1 MB', `# ${'x'.repeat(1_000_001)}\n${SOUND}`],
  ])('that is %s is refused with a sentence', (_, text) => {
    const result = read(text);
    expect(result).toMatchObject({ kind: 'refused', errors: [{ line: 1 }] });
    expect(said(text)[0]).toMatch(/^visit\.yaml:1:\d+: .{20,}\.$/);
  });

  it.each([
    ['an alias', `${SOUND}visit2: &a 1\nvisit3: *a\n`, 'Write the value out'],
    ['a tab', 'tooth:\n\tfdi: 46\nimages: []', 'Indent with spaces'],
    ['a doubled key', `${SOUND}tooth: {fdi: 46}\n`, 'Keep one'],
    ['a tag', 'tooth: !tooth {fdi: 46}\nimages: []', 'quotes'],
    ['an open quote', `${SOUND}handoff: {by: "4 weeks}\n`, 'Close every quote'],
    ['a second colon', 'tooth: {fdi: 46}\nimages: []\nhandoff:\n  advise: now: crown\n', 'quotes'],
    ['a broken indent', 'tooth:\n   fdi: 46\n  universal: 30\nimages: []', 'same column'],
    ['an at sign', 'tooth: {fdi: 46}\nimages: []\nhandoff:\n  by: @home\n', 'quotes'],
  ])('with %s is refused and says how to mend it', (_, text, hint) => {
    expect(read(text).kind).toBe('refused');
    expect(said(text).join('\n')).toContain(hint);
  });

  it.each([
    ['brackets', '['.repeat(500_000)],
    ['dashes', '- '.repeat(500_000)],
    ['keys on one line', `patient:\n  chart: ${'a: '.repeat(20_000)}`],
    ['lines each further in', Array.from({ length: 1400 }, (_, at) => `${' '.repeat(at)}a:`).join('\n')],
    ['question marks', '? '.repeat(500_000)],
    ['spread-out brackets', '{a: ['.repeat(5000)],
    ['quoted closing brackets', '["]",'.repeat(5000)],
    [
      'aliases of aliases',
      `a: &a [x]\n${Array.from({ length: 20 }, (_, at) => `b${at}: &b${at} [*a, *a, *a]`).join('\n')}`,
    ],
  ])('of nested %s is refused without harm', (_, text) => expect(read(text).kind).toBe('refused'));

  it('never throws, and every error has a place in it and a sentence', () => {
    const piece = fc.oneof(
      fc.constantFrom(
        ...'tooth:|images:|patient:|visit:|{fdi: 46}|  - |\n|---\n|: |{|}|[|]|,|"|\'|&a|*a|!t|#|\t|stage: core|file: a.jpg|null|~|%YAML 1.1\n|canals: {canal: MB}|>|?'.split(
          '|',
        ),
        '|',
      ),
      fc.string({ unit: 'binary', maxLength: 6 }),
    );
    const text = fc.array(piece, { maxLength: 30 }).map((pieces) => pieces.join(''));
    fc.assert(fc.property(text, expectPlaced), { numRuns: 600 });
    fc.assert(fc.property(fc.uint8Array({ maxLength: 80 }), expectPlaced), { numRuns: 300 });
  });

  it('survives any one slip of the keyboard in a sound file', () => {
    const slip = fc.record({
      at: fc.nat(SOUND.length - 1),
      drop: fc.nat(3),
      add: fc.string({ maxLength: 2 }),
    });
    fc.assert(
      fc.property(slip, ({ at, drop, add }) =>
        expectPlaced(SOUND.slice(0, at) + add + SOUND.slice(at + drop)),
      ),
      { numRuns: 300 },
    );
  });
});

function expectPlaced(text: string | Uint8Array): void {
  const whole = typeof text === 'string' ? text : new TextDecoder().decode(text);
  const lines = whole.replace(/^\uFEFF/, '').split(/\r\n?|\n/);
  for (const error of errorsOf(text)) {
    expect(error.line).toBeGreaterThanOrEqual(1);
    expect(error.column).toBeGreaterThanOrEqual(1);
    if (typeof text === 'string') {
      expect(error.line).toBeLessThanOrEqual(lines.length);
      expect(error.column).toBeLessThanOrEqual((lines[error.line - 1] as string).length + 1);
    }
    expect(error.sentence).toMatch(/[.?)]$/);
  }
}

describe('any sound document', () => {
  const words = (options: string[]) => fc.constantFrom(...options);
  const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
  const point = fc.tuple(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 5000 }));
  const text = fc.stringMatching(/^[a-z:#'"{}, -]{1,30}$/).map((one) => `x${one.trimEnd()}`);
  const canal = fc.record(
    {
      canal: words(['MB', 'ML', 'D', 'MM', 'main']),
      length: fc.integer({ min: 10, max: 60 }).map((n) => n / 2),
      dry: fc.boolean(),
      note: text,
    },
    { requiredKeys: ['canal'] },
  );
  const image = fc.record(
    {
      file: fc.integer({ min: 0, max: 1e6 }).map((n) => `IMG_${n}.JPG`),
      stage: words(['pre-op', 'access', 'post-op']),
      view: words(['periapical', 'microscope']),
      mirror: fc.boolean(),
      caption: text,
      lesion: fc.array(point, { minLength: 3, maxLength: 5 }),
    },
    { requiredKeys: ['file', 'stage', 'view'] },
  );
  const written = fc.record({
    patient: maybe(fc.record({ chart: fc.stringMatching(/^[0-9]{1,3}$/) })),
    tooth: words(['46', '11', '85']).map((fdi) => ({ fdi: Number(fdi) })),
    canals: fc.uniqueArray(canal, { selector: (one) => one.canal, maxLength: 4 }),
    images: fc.uniqueArray(image, { selector: (one) => one.file, maxLength: 6 }),
  });

  it('comes back as it was written, as YAML and as JSON', () => {
    fc.assert(
      fc.property(written, (value) => {
        for (const source of [stringify(value), JSON.stringify(value)]) {
          const { document, errors } = firstOf(source);
          expect(errors).toEqual([]);
          expect(document.patient.chart).toBe(value.patient?.chart ?? null);
          expect(document.canals.map(({ canal: label, length, note }) => [label, length, note])).toEqual(
            value.canals.map((one) => [one.canal, one.length ?? null, one.note ?? null]),
          );
          expect(document.images.map((one) => [one.file, one.stage, one.caption, one.lesion])).toEqual(
            value.images.map((one) => [one.file, one.stage, one.caption ?? null, one.lesion ?? null]),
          );
        }
      }),
      { numRuns: 60 },
    );
  });
});

// YAML 1.2.2, chapters 2 and 10: examples by number
describe('examples of the YAML specification', () => {
  const value = (yaml: string) =>
    firstOf(`tooth: {fdi: 46}\nimages: []\nhandoff:\n  advise: ${yaml}\n`).document.handoff.advise;

  it.each([
    ['2.13 literal block', '|\n    first line\n    second line', 'first line\nsecond line'],
    ['2.14 folded block', '>\n    a crown\n    soon', 'a crown soon'],
    ['2.17 double quotes', '"cuspal \\u263A coverage"', 'cuspal \u263A coverage'],
    ['2.17 single quotes', "'# not a ''comment''.'", "# not a 'comment'."],
    ['2.18 multi-line plain', 'a plain text\n    over two lines', 'a plain text over two lines'],
    ['6.9 comment after a value', 'a crown # soon', 'a crown'],
    ['7.7 a plain scalar with signs', 'gutta-percha, 3 mm: off', null],
  ])('%s', (_, yaml, expected) => {
    if (expected === null) expect(() => value(yaml)).toThrow();
    else expect(value(yaml)).toBe(expected);
  });

  it('10.3 resolves the core schema where a number or truth value is expected', () => {
    const yes = ['true', 'True', 'TRUE'].map(
      (word) =>
        firstOf(`tooth: {fdi: 46}\nimages: []\nconsent: {referral: ${word}}`).document.consent.referral,
    );
    expect(yes).toEqual([true, true, true]);
    const none = ['~', 'null', 'Null', 'NULL', ''].map(
      (word) =>
        firstOf(`tooth: {fdi: 46}\nimages: []\nconsent: {referral: ${word}}`).document.consent.referral,
    );
    expect(none).toEqual([null, null, null, null, null]);
    const lengths = ['20', '+20.5', '2.05e1', '12.'].map(
      (one) =>
        firstOf(`tooth: {fdi: 46}\nimages: []\ncanals: [{canal: MB, length: ${one}}]`).document.canals[0]
          ?.length,
    );
    expect(lengths).toEqual([20, 20.5, 20.5, 12]);
  });
});

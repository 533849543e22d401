import { ALL_TEETH, palmerOf, palmerSign, toothWords, universalOf } from './tooth-names.js';
import type { ToothRef } from './tooth-ref.js';

/** FDI is ISO 3950, Universal is the ADA's, Palmer is Zsigmondy's with corner signs or UR, UL, LL, LR. */
export type Notation = 'fdi' | 'universal' | 'palmer';

/** `sentence`: what was seen, then what to do; it quotes a value only when that has the form of a tooth number. */
export type ToothResult = { ok: true; tooth: ToothRef } | { ok: false; sentence: string; allowed?: string[] };

const KEYS = ['fdi', 'universal', 'palmer', 'supernumerary'] as const;
const NAME: Record<Notation, string> = { fdi: 'FDI', universal: 'Universal', palmer: 'Palmer' };
const LONGEST_WORDS = 80;

const refuse = (sentence: string, allowed?: readonly string[]): ToothResult => ({
  ok: false,
  sentence,
  ...(allowed === undefined ? {} : { allowed: [...allowed] }),
});

/**
 * Reads a tooth as the sidecar gives it: {fdi: 46}, {universal: 30}, {palmer: LR6}, {supernumerary: near 21},
 * several of the first three if they mean the same tooth, or a bare number or word under a declared notation.
 */
export function parseTooth(value: unknown, notation: Notation | null): ToothResult {
  if (typeof value === 'number' || typeof value === 'string') {
    return notation === null ? refuseBare(value) : parseOne(value, notation);
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refuse('The tooth must be named with its system. Write for example {fdi: 46}.', KEYS);
  }
  const entries = Object.entries(value);
  if (entries.some(([key]) => !isKey(key))) {
    return refuse(
      'A tooth has the keys fdi, universal, palmer or supernumerary only. Correct the key.',
      KEYS,
    );
  }
  if (entries.length === 0) return refuse('No tooth is named. Write for example {fdi: 46}.', KEYS);
  return parseKeys(entries as [(typeof KEYS)[number], unknown][]);
}

const isKey = (key: string): boolean => (KEYS as readonly string[]).includes(key);

function parseKeys(entries: [(typeof KEYS)[number], unknown][]): ToothResult {
  const extra = entries.find(([key]) => key === 'supernumerary');
  if (extra !== undefined) {
    return entries.length === 1
      ? parseSupernumerary(extra[1])
      : refuse('A supernumerary tooth has no number. Keep either supernumerary or the number.');
  }
  const numbered = entries as [Notation, unknown][];
  const read = numbered.map(([key, value]) => parseOne(value, key));
  const wrong = read.find((one) => !one.ok);
  if (wrong !== undefined) return wrong;
  const teeth = read.flatMap((one) => (one.ok && 'fdi' in one.tooth ? [one.tooth.fdi] : []));
  if (new Set(teeth).size === 1) return { ok: true, tooth: { fdi: teeth[0] as number } };
  const said = numbered.map(
    ([key], at) => `${inNotation(teeth[at] as number, key)} is the ${toothWords(teeth[at] as number)}`,
  );
  return refuse(`${said.join(', but ')}. Keep the one that is meant.`);
}

function parseSupernumerary(value: unknown): ToothResult {
  const words = typeof value === 'string' ? value.normalize('NFC').trim().replace(/\s+/g, ' ') : '';
  return words.length > 0 && words.length <= LONGEST_WORDS
    ? { ok: true, tooth: { supernumerary: words } }
    : refuse(
        `Say in 1 to ${LONGEST_WORDS} characters where the supernumerary tooth is, for example "near 21".`,
      );
}

function parseOne(value: unknown, notation: Notation): ToothResult {
  const written = writtenAs(value);
  const found = findTooth(written, notation);
  if (found !== null) return { ok: true, tooth: { fdi: found } };
  const why = WHY_NOT[notation](written);
  const others = (['fdi', 'universal', 'palmer'] as const).flatMap((other) => {
    const tooth = other === notation ? null : findTooth(written, other);
    return tooth === null
      ? []
      : [`${inNotation(tooth, other)} is the ${toothWords(tooth)}: did you mean {${other}: ${written}}?`];
  });
  return refuse([why.sentence, ...others].join(' '), why.allowed);
}

/** Numbers and words alike as one upper-case word; empty for anything else, so that nothing odd is ever quoted. */
function writtenAs(value: unknown): string {
  if (typeof value === 'number') return String(value);
  return typeof value === 'string' ? value.normalize('NFC').replace(/\s+/g, '').toUpperCase() : '';
}

const BY_NAME: Record<Notation, ReadonlyMap<string, number>> = {
  fdi: new Map(ALL_TEETH.map((fdi) => [String(fdi), fdi])),
  universal: new Map(ALL_TEETH.map((fdi) => [universalOf(fdi), fdi])),
  palmer: new Map(
    ALL_TEETH.flatMap((fdi) => [
      [palmerOf(fdi), fdi],
      [palmerSign(fdi), fdi],
    ]),
  ),
};

const findTooth = (written: string, notation: Notation): number | null =>
  BY_NAME[notation].get(written) ?? null;

const inNotation = (fdi: number, notation: Notation): string =>
  `${NAME[notation]} ${notation === 'fdi' ? fdi : notation === 'universal' ? universalOf(fdi) : palmerOf(fdi)}`;

interface WhyNot {
  sentence: string;
  allowed?: readonly string[];
}

const NUMBER = /^-?\d{1,3}(\.\d{1,3})?$/;

const WHY_NOT: Record<Notation, (written: string) => WhyNot> = {
  fdi: (written) => {
    if (!/^\d{2}$/.test(written)) {
      return {
        sentence: `${shown(written)} is no tooth in FDI: it has two digits, the quadrant 1-8 and the place 1-8.`,
      };
    }
    const quadrant = Number(written[0]);
    if (quadrant < 1 || quadrant > 8) {
      return { sentence: `${written} is no tooth in FDI: the first digit is the quadrant and runs 1-8.` };
    }
    const allowed = ALL_TEETH.filter((fdi) => Math.floor(fdi / 10) === quadrant).map(String);
    return quadrant <= 4
      ? {
          sentence: `${written} is no tooth in FDI: the second digit runs 1-8 in the permanent quadrants 1-4.`,
          allowed,
        }
      : {
          sentence: `${written} is no tooth in FDI: the second digit runs 1-5 in the primary quadrants 5-8.`,
          allowed,
        };
  },
  universal: (written) => {
    const number = NUMBER.test(written) ? Number(written) : Number.NaN;
    const extra = number >= 51 && number <= 82;
    const hint = extra
      ? ' 51-82 mark supernumerary teeth there: write {supernumerary: near ...} for one.'
      : '';
    return {
      sentence: `${shown(written)} is no tooth in Universal: permanent teeth run 1-32, primary teeth A-T.${hint}`,
    };
  },
  palmer: (written) => ({
    sentence: `${shown(written)} is no tooth in Palmer: write the corner UR, UL, LL or LR and the place 1-8, or A-E for a primary tooth, for example LR6.`,
  }),
};

const shown = (written: string): string =>
  NUMBER.test(written) || /^([A-Z]|[UL][RL][0-9A-Z])$/.test(written) ? written : 'This';

function refuseBare(value: number | string): ToothResult {
  const written = writtenAs(value);
  const readings = (['fdi', 'universal', 'palmer'] as const).flatMap((notation) => {
    const tooth = findTooth(written, notation);
    return tooth === null ? [] : [{ notation, tooth }];
  });
  if (readings.length === 0) {
    return refuse(
      `${shown(written)} is no tooth in FDI, Universal or Palmer. Write for example {fdi: 46}.`,
      KEYS,
    );
  }
  const said = readings.map(
    ({ notation, tooth }) => `the ${toothWords(tooth)} (${inNotation(tooth, notation)})`,
  );
  const keys = readings.map(({ notation }) => `{${notation}: ${written}}`);
  return refuse(
    `${written} alone does not say which numbering is meant: ${said.join(' or ')}. Write ${keys.join(' or ')}, or set notation in practice.yaml.`,
    keys,
  );
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sentenceOf } from '../../../src/core/reason-sentence.js';
import type { FoundBox, FoundText } from '../../../src/finders/finder.js';
import { type CoverInput, decideCovers, lookSentence } from '../../../src/stages/cover/index.js';

const SIZE = { widthPx: 1000, heightPx: 800 };

const text = (box: FoundBox, some: Partial<FoundText> = {}): FoundText => ({
  box,
  text: 'TESTCASE, ROWAN',
  confidence: 0.97,
  score: 0.95,
  by: 'net',
  ...some,
});

const decide = (
  texts: FoundText[],
  entry: Partial<CoverInput['entry']> = {},
  zones: FoundBox[] = [],
  size = SIZE,
) =>
  decideCovers({
    texts,
    entry: { view: 'periapical', cover: [], keep: [], paths: [], lesion: null, landmarks: {}, ...entry },
    zones,
    ...size,
  });

const boxes = (covering: ReturnType<typeof decideCovers>) => covering.covers.map(({ box }) => box);
const codes = (covering: ReturnType<typeof decideCovers>) => covering.looks.map(({ code }) => code);

const SIGNED = { by: 'AB', why: 'a scale, no text' };
const PATH = {
  canal: 'D',
  points: [
    [500, 200],
    [500, 400],
    [520, 600],
  ] as [number, number][],
  apex: [522, 610] as [number, number],
  fillingEnd: [515, 560] as [number, number],
};

describe('text that was found', () => {
  it('is covered, surely read or not, in whole pixels and inside the picture', () => {
    const covering = decide([
      text([-5, 10, 100, 20]),
      text([900, 700.4, 300, 20.2], { text: '', confidence: 0, score: 0.9 }),
    ]);
    expect(covering.covers).toEqual([
      { box: [0, 10, 95, 20], kind: 'text', doubtful: false },
      { box: [900, 700, 100, 21], kind: 'text', doubtful: true },
    ]);
    expect(codes(covering)).toEqual(['doubtful-cover']);
    expect(covering.hold).toBeNull();
  });

  it('is covered across the gap where the finder lost letters in the middle of a line', () => {
    const torn = [text([0, 3, 129, 30]), text([145, 10, 44, 17])];
    const { covers } = decide(torn);
    const isHidden = (x: number, y: number) =>
      covers.some(({ box: [left, top, width, height] }) => {
        return x >= left && x < left + width && y >= top && y < top + height;
      });
    for (let x = 129; x < 145; x += 1) expect(isHidden(x, 3) && isHidden(x, 32)).toBe(true);
    const apart = [text([0, 3, 129, 30]), text([160, 10, 44, 17]), text([0, 60, 129, 30])];
    expect(boxes(decide(apart))).toEqual([
      [0, 3, 129, 30],
      [160, 10, 44, 17],
      [0, 60, 129, 30],
    ]);
    const keep = [{ box: [130, 5, 12, 20], ...SIGNED }] as CoverInput['entry']['keep'];
    expect(boxes(decide(torn, { keep }))).toHaveLength(2);
  });

  it.each([
    ['a weak place', { score: 0.61 }],
    ['a weak reading', { confidence: 0.5 }],
    ['nothing read', { text: '', confidence: 0 }],
  ])('with %s is covered and looked at', (_, some) => {
    const covering = decide([text([10, 10, 100, 20], some)]);
    expect(boxes(covering)).toEqual([[10, 10, 100, 20]]);
    expect(codes(covering)).toEqual(['doubtful-cover']);
  });

  it('stays when it is a side marker or a scale number, surely read and alone', () => {
    expect(decide([text([10, 10, 40, 20], { text: 'R' })]).covers).toEqual([]);
    expect(decide([text([10, 10, 100, 20], { text: '10 mm' })]).covers).toEqual([]);
  });

  it('is covered when allowed but not surely read', () => {
    expect(boxes(decide([text([10, 10, 40, 20], { text: 'R', confidence: 0.85 })]))).toHaveLength(1);
  });

  it('is covered when its box is much longer than what was read in it', () => {
    expect(boxes(decide([text([10, 10, 160, 20], { text: 'R' })]))).toHaveLength(1);
    expect(boxes(decide([text([10, 10, 20, 160], { text: 'R' })]))).toHaveLength(1);
  });

  it('is covered when allowed but a piece of a longer line: an initial, a digit of a date', () => {
    const initial = [text([10, 10, 40, 20], { text: 'R' }), text([55, 12, 150, 20])];
    expect(boxes(decide(initial))).toEqual([[10, 10, 195, 22]]);
    const digits = [text([10, 10, 30, 20], { text: '5' }), text([45, 10, 30, 20], { text: '4' })];
    expect(boxes(decide(digits))).toEqual([[10, 10, 65, 20]]);
    const upright = [text([10, 10, 20, 30], { text: '5' }), text([10, 45, 20, 90])];
    expect(boxes(decide(upright))).toHaveLength(2);
  });

  it('stays when allowed beside text of another line', () => {
    const covering = decide([text([10, 10, 40, 20], { text: 'R' }), text([10, 60, 150, 20])]);
    expect(boxes(covering)).toEqual([[10, 60, 150, 20]]);
  });
});

describe('keep: in the sidecar', () => {
  it('of a named person keeps what lies wholly in it', () => {
    const covering = decide([text([10, 10, 100, 20])], { keep: [{ box: [10, 10, 100, 20], ...SIGNED }] });
    expect(covering).toEqual({ covers: [], looks: [], hold: null });
  });

  it('does not keep what reaches out of it', () => {
    const covering = decide([text([10, 10, 101, 20])], { keep: [{ box: [10, 10, 100, 20], ...SIGNED }] });
    expect(boxes(covering)).toEqual([[10, 10, 101, 20]]);
  });

  it.each([null, '', '  '])('without by: (%j) counts as none and says so', (by) => {
    const covering = decide([text([10, 10, 100, 20])], {
      keep: [{ box: [10, 10, 100, 20], by, why: 'a scale' }],
    });
    expect(boxes(covering)).toEqual([[10, 10, 100, 20]]);
    expect(codes(covering)).toEqual(['keep-unsigned']);
  });

  it('without why: counts and asks for a look', () => {
    const covering = decide([text([10, 10, 100, 20])], {
      keep: [{ box: [10, 10, 100, 20], by: 'AB', why: null }],
    });
    expect(covering.covers).toEqual([]);
    expect(codes(covering)).toEqual(['text-kept']);
  });

  it('never uncovers a cover: or a zone of the source', () => {
    const keep = [{ box: [0, 0, 500, 500] as FoundBox, ...SIGNED }];
    const cover = [{ box: [10, 10, 50, 50] as FoundBox, by: null, why: null }];
    expect(boxes(decide([], { keep, cover }, [[100, 100, 50, 50]]))).toEqual([
      [10, 10, 50, 50],
      [100, 100, 50, 50],
    ]);
  });
});

describe('a cover over what the picture is about', () => {
  it.each([
    ['root-end', 'the marked apex', [510, 605, 40, 20]],
    ['root-end', 'the last point of a path', [480, 590, 45, 15]],
    ['filling', 'the end of the filling', [505, 550, 20, 20]],
    ['filling', 'the filled part of a canal', [450, 300, 100, 20]],
  ] as const)('holds the picture: %s, %s', (over, _, box) => {
    const { hold } = decide([text([...box])], { paths: [PATH] });
    expect(hold).toEqual({ code: 'cover-over-anatomy', over, boxes: 1, places: [[...box]] });
    expect(sentenceOf(hold!)).toContain(`[${box.join(', ')}]`);
  });

  it('holds it inside a marked lesion, across its edge, and over a landmark', () => {
    const lesion: [number, number][] = [
      [300, 300],
      [500, 300],
      [500, 500],
      [300, 500],
    ];
    for (const box of [
      [380, 380, 20, 10],
      [450, 200, 10, 250],
      [200, 350, 400, 20],
    ] as FoundBox[]) {
      expect(decide([text(box)], { lesion }).hold).toMatchObject({ over: 'lesion' });
    }
    expect(decide([text([200, 200, 50, 20])], { lesion }).hold).toBeNull();
    const landmarks = { cej: [100, 100] as [number, number] };
    expect(decide([text([60, 90, 60, 20])], { landmarks }).hold).toMatchObject({ over: 'landmark' });
  });

  it('holds it a hundredth of the shorter side away, and not two', () => {
    const landmarks = { cej: [100, 100] as [number, number] };
    expect(decide([text([108, 90, 60, 20])], { landmarks }).hold).not.toBeNull();
    expect(decide([text([116, 90, 60, 20])], { landmarks }).hold).toBeNull();
  });

  it('does not hold it along the part of a canal that is not filled, nor beside everything', () => {
    const long = { ...PATH, fillingEnd: [500, 300] as [number, number] };
    expect(decide([text([450, 480, 80, 20])], { paths: [long] }).hold).toBeNull();
    expect(decide([text([10, 10, 200, 20])], { paths: [PATH] })).toMatchObject({ hold: null, looks: [] });
  });

  it('names the gravest and counts all', () => {
    const { hold } = decide([text([450, 250, 100, 20]), text([500, 600, 60, 20])], { paths: [PATH] });
    expect(hold).toMatchObject({ over: 'root-end', boxes: 2 });
  });

  it('is let pass by a named person: kept, or covered on purpose', () => {
    const box: FoundBox = [500, 600, 60, 20];
    expect(decide([text(box)], { paths: [PATH], keep: [{ box, ...SIGNED }] })).toMatchObject({
      covers: [],
      hold: null,
    });
    expect(decide([text(box)], { paths: [PATH], cover: [{ box, ...SIGNED }] })).toEqual({
      covers: [{ box, kind: 'by-hand', doubtful: false }],
      looks: [],
      hold: null,
    });
  });

  it('holds also for a zone and for a cover: that nobody signed', () => {
    const box: FoundBox = [500, 600, 60, 20];
    expect(decide([], { paths: [PATH], cover: [{ box, by: null, why: null }] }).hold).not.toBeNull();
    expect(decide([], { paths: [PATH] }, [box]).hold).not.toBeNull();
  });
});

describe('a radiograph without any point', () => {
  it('asks for a look when text was covered in its middle', () => {
    expect(codes(decide([text([400, 300, 100, 20])]))).toEqual(['cover-unplaced']);
    expect(codes(decide([text([140, 110, 20, 20])]))).toEqual(['cover-unplaced']);
  });

  it('asks for none along its edge, when a person covered it, in a still, or when points say what lies there', () => {
    expect(codes(decide([text([10, 10, 900, 100]), text([10, 690, 100, 20])]))).toEqual([]);
    const box: FoundBox = [400, 300, 100, 20];
    expect(codes(decide([text(box)], { cover: [{ box, ...SIGNED }] }))).toEqual([]);
    expect(codes(decide([text(box)], { view: 'microscope' }))).toEqual([]);
    expect(codes(decide([text(box)], { landmarks: { cej: [900, 700] } }))).toEqual([]);
  });
});

describe('the boxes to paint', () => {
  it('are joined when one string was found twice, and a person or zone swallows what it holds', () => {
    expect(boxes(decide([text([10, 10, 100, 20]), text([90, 10, 100, 20])]))).toEqual([[10, 10, 180, 20]]);
    const zone: FoundBox = [0, 0, 300, 60];
    expect(decide([text([10, 10, 100, 20])], {}, [zone]).covers).toEqual([
      { box: zone, kind: 'zone', doubtful: false },
    ]);
  });

  it('are not joined over what nobody found', () => {
    expect(boxes(decide([text([10, 10, 200, 20]), text([10, 25, 20, 200])]))).toHaveLength(2);
  });

  const anyBox = fc
    .tuple(
      fc.integer({ min: -50, max: 1050 }),
      fc.integer({ min: -50, max: 850 }),
      fc.integer({ min: 1, max: 300 }),
      fc.integer({ min: 1, max: 300 }),
    )
    .map((box) => box as FoundBox);
  const anyTexts = fc.array(
    fc.record({
      box: anyBox,
      text: fc.constantFrom('R', '10 mm', '5', 'ROWAN', ''),
      confidence: fc.constantFrom(0, 0.5, 0.95),
      score: fc.constantFrom(0.6, 0.95),
      by: fc.constantFrom('net' as const, 'flat' as const),
    }),
    { maxLength: 8 },
  );

  it('hold every pixel of every text that is not allowed, in the same order however the texts come', () => {
    fc.assert(
      fc.property(anyTexts, fc.array(anyBox, { maxLength: 2 }), (texts, zones) => {
        const covering = decide(texts, {}, zones);
        expect(decide(texts.toReversed(), {}, zones.toReversed())).toEqual(covering);
        const painted = new Uint8Array(SIZE.widthPx * SIZE.heightPx);
        for (const [x, y, width, height] of boxes(covering)) {
          expect(x >= 0 && y >= 0 && x + width <= SIZE.widthPx && y + height <= SIZE.heightPx).toBe(true);
          for (let row = y; row < y + height; row += 1)
            painted.fill(1, row * 1000 + x, row * 1000 + x + width);
        }
        const mustGo = [
          ...zones,
          ...texts.filter((one) => one.text === 'ROWAN' || one.confidence < 0.9).map(({ box }) => box),
        ];
        for (const [x, y, width, height] of mustGo) {
          for (let row = Math.max(0, y); row < Math.min(800, y + height); row += 1) {
            const [left, right] = [Math.max(0, x), Math.min(1000, x + width)];
            if (right > left)
              expect(painted.subarray(row * 1000 + left, row * 1000 + right).includes(0)).toBe(false);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the sentence of a look', () => {
  it('says where and what to do, for each', () => {
    for (const code of ['doubtful-cover', 'text-kept', 'keep-unsigned', 'cover-unplaced'] as const) {
      const sentence = lookSentence({ code, box: [1, 2, 30, 40] });
      expect(sentence).toContain('[1, 2, 30, 40]');
      expect(sentence).toMatch(/[Ww]rite|write/);
    }
  });
});

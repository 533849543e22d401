import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inCaptureOrder } from '../../src/app/draft/capture-order.js';
import { draftSidecar } from '../../src/app/draft/draft-sidecar.js';
import type { DropFile } from '../../src/app/intake/drop.js';
import type { PictureFacts } from '../../src/core/picture-facts.js';

interface Shot {
  name: string;
  takenAt?: string | null;
  device?: string;
  grey?: boolean;
  sha256?: string;
}

function given(shots: readonly Shot[]): { files: DropFile[]; facts: Map<string, PictureFacts> } {
  const facts = new Map<string, PictureFacts>();
  const files = shots.map(
    ({ name, takenAt = null, device = 'Drawn Scope', grey = false, sha256 = name }): DropFile => {
      facts.set(sha256, {
        format: 'JPEG',
        widthPx: 40,
        heightPx: 30,
        orientation: 1,
        bitsPerChannel: 8,
        grey,
        takenAt,
        device,
        source: device,
        carriers: {},
        identifying: [],
        notes: [],
      });
      return { name, sha256, format: 'JPEG', extension: 'jpg', path: '/', reason: null };
    },
  );
  return { files, facts };
}

const order = (shots: readonly Shot[], sources: Parameters<typeof inCaptureOrder>[2] = []): string[] => {
  const { files, facts } = given(shots);
  return inCaptureOrder(files, facts, sources).map(({ file }) => file.name);
};

describe('the order of a draft', () => {
  it('is by capture time within one device, else by the number in the name', () => {
    expect(
      order([
        { name: 'IMG_10.JPG', takenAt: '2026-02-11T09:00:00' },
        { name: 'IMG_9.JPG', takenAt: '2026-02-11T09:05:00' },
      ]),
    ).toEqual(['IMG_10.JPG', 'IMG_9.JPG']);
    expect(order([{ name: 'IMG_10.JPG' }, { name: 'IMG_9.JPG' }])).toEqual(['IMG_9.JPG', 'IMG_10.JPG']);
  });

  it('never compares the clocks of two devices picture by picture, but for an offset that is declared', () => {
    const shots = [
      { name: 'a1.jpg', takenAt: '2026-02-11T09:00:00', device: 'A' },
      { name: 'b1.jpg', takenAt: '2026-02-11T09:01:00', device: 'B' },
      { name: 'a2.jpg', takenAt: '2026-02-11T09:02:00', device: 'A' },
    ];
    expect(order(shots)).toEqual(['a1.jpg', 'a2.jpg', 'b1.jpg']);
    expect(order(shots, [{ source: 'B', corrected: false, offset: -3600 }])).toEqual([
      'b1.jpg',
      'a1.jpg',
      'a2.jpg',
    ]);
  });

  it('takes a picture once, under its plainer name', () => {
    const twin = { takenAt: '2026-02-11T09:00:00', sha256: 'same' };
    expect(
      order([
        { name: 'IMG_1 (2).JPG', ...twin },
        { name: 'IMG_1.JPG', ...twin },
      ]),
    ).toEqual(['IMG_1.JPG']);
  });

  it('loses no picture and names each in the sidecar, whatever the times', () => {
    const shot = fc.record({
      name: fc.uuid(),
      takenAt: fc.option(
        fc.constantFrom('2026-02-11T09:00:00', '2026-02-11T09:30:00.25', '2026-02-12T00:00:01'),
      ),
      device: fc.constantFrom('A', 'B'),
      grey: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.uniqueArray(shot, { selector: ({ name }) => name, maxLength: 12 }), (shots) => {
        const { files, facts } = given(shots);
        const pictures = inCaptureOrder(files, facts, []);
        const text = draftSidecar(pictures);
        expect(pictures).toHaveLength(shots.length);
        for (const { name } of shots) expect(text.split(JSON.stringify(name))).toHaveLength(2);
        for (let at = 1; at < pictures.length; at += 1) {
          const [before, after] = [pictures[at - 1]?.group ?? 0, pictures[at]?.group ?? 0];
          expect(after - before === 0 || after - before === 1).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });
});

/** The drawn radiographs against the anatomy of real ones. Each bound names where it is from. */
import { beforeAll, describe, expect, it } from 'vitest';
import { CASE_A, CASE_B } from '../../sample-images/drawing/case-facts.js';
import type { DrawnFilm } from '../../sample-images/drawing/films/film.js';
import { drawOneFilm, filmNames } from '../../sample-images/drawing/films/index.js';
import { discStatistics } from '../../sample-images/drawing/raster.js';

/** Coarser than the stored pictures, so that the test takes seconds. */
const COARSE_MM_PER_PX = 0.09;
const films = new Map<string, DrawnFilm>();

beforeAll(() => {
  for (const name of filmNames) films.set(name, drawOneFilm(name, COARSE_MM_PER_PX));
}, 300_000);

const each = (check: (film: DrawnFilm, name: string) => void): void => {
  expect(films.size).toBe(8);
  for (const [name, film] of films) check(film, name);
};
const canal = (film: DrawnFilm, label: string) => film.truth.canals.find(({ name }) => name === label)!;
const mean = (film: DrawnFilm, region: string): number =>
  film.truth.regions.find(({ name }) => name === region)!.mean;
const pxPerMm = (film: DrawnFilm): number => film.truth.magnification / film.truth.mmPerPx;

describe('the side and the way up', () => {
  // Labial mounting, seen as if facing the patient: oral radiology teaching texts.
  it('shows lower apices below the crown and upper apices above it', () => {
    each(({ truth }) => {
      const down = truth.upper ? -1 : 1;
      for (const { apexPx } of truth.canals)
        expect((apexPx[1] - truth.crownPx[1]) * down).toBeGreaterThan(truth.heightPx / 2);
    });
  });

  it('puts mesial to the right for the patient’s right side and the smaller neighbour number mesially', () => {
    each(({ truth }) => {
      expect(truth.mesialSide).toBe([1, 4].includes(Math.floor(truth.fdi / 10)) ? 1 : -1);
      expect(truth.neighbours.length).toBeGreaterThan(2);
      for (const { fdi, crownPx } of truth.neighbours) {
        const side = Math.sign((crownPx[0] - truth.crownPx[0]) * truth.mesialSide);
        expect(side).toBe(fdi % 10 < truth.fdi % 10 ? 1 : -1);
      }
    });
  });
});

describe('canals', () => {
  it('draws exactly the canals of the case', () => {
    each(({ truth }) => {
      const facts = truth.fdi === CASE_A.fdi ? CASE_A.canals : CASE_B.canals;
      expect(truth.canals.map(({ name }) => name).sort()).toEqual(Object.keys(facts).sort());
    });
  });

  it('draws each at its recorded length, and the film shows that length at its scale', () => {
    each(({ truth }) => {
      const facts: Record<string, number> = truth.fdi === CASE_A.fdi ? CASE_A.canals : CASE_B.canals;
      for (const { name, lengthMm, drawnMm } of truth.canals) {
        expect(Math.abs(lengthMm - facts[name]!)).toBeLessThan(0.01);
        expect(Math.abs(drawnMm - facts[name]!)).toBeLessThan(0.25);
      }
    });
  });

  it('ends every file, cone and filling 0.5 to 1 mm short of the canal’s end', () => {
    each((film) => {
      for (const { endPx, apexPx, shortMm } of film.truth.canals) {
        const seenMm = Math.hypot(endPx[0] - apexPx[0], endPx[1] - apexPx[1]) / pxPerMm(film);
        expect(shortMm).toBeGreaterThanOrEqual(0.5);
        expect(seenMm).toBeGreaterThan(0.35);
        expect(seenMm).toBeLessThan(1);
      }
    });
  });

  it('lets the middle mesial canal run into MB 4 mm from its end', () => {
    for (const name of filmNames.filter((film) => film.startsWith('46'))) {
      const film = films.get(name)!;
      const joins = canal(film, 'MM').joins!;
      const mb = canal(film, 'MB');
      const path = [...mb.pathPx, mb.endPx];
      const gaps = path.map(([x, y]) => Math.hypot(x - joins.px[0], y - joins.px[1]) / pxPerMm(film));
      const at = gaps.indexOf(Math.min(...gaps));
      expect(gaps[at]).toBeLessThan(0.3);
      let restMm = 0;
      for (let i = at; i < path.length - 1; i++) {
        restMm += Math.hypot(path[i + 1]![0] - path[i]![0], path[i + 1]![1] - path[i]![1]) / pxPerMm(film);
      }
      expect(restMm + mb.shortMm).toBeGreaterThan(3.5);
      expect(restMm + mb.shortMm).toBeLessThan(4.5);
    }
  });

  it('separates lingual from buccal by distance times tangent, to the mesial, and not at all when straight', () => {
    each((film) => {
      const { truth } = film;
      const [buccal, lingual, apartMm] = truth.fdi === 46 ? ['MB', 'ML', 3.1] : ['B', 'P', 3.0];
      const dx = canal(film, lingual as string).orificePx[0] - canal(film, buccal as string).orificePx[0];
      const dy = canal(film, lingual as string).orificePx[1] - canal(film, buccal as string).orificePx[1];
      const mesialMm = (Math.hypot(dx, dy) * Math.sign(dx) * truth.mesialSide) / pxPerMm(film);
      const due = (apartMm as number) * Math.tan((truth.beamDeg * Math.PI) / 180);
      if (truth.beamDeg === 0) expect(Math.abs(mesialMm)).toBeLessThan(0.2);
      else expect(Math.abs(mesialMm - due)).toBeLessThan(0.1 * due);
    });
  });

  it('curves the mesial root of the lower molar distally in its apical third', () => {
    const film = films.get('46-filled.tif')!;
    const path = canal(film, 'MB').pathPx;
    const mid = Math.floor(path.length / 2);
    const [ax, ay] = path[mid - 2]!;
    const [bx, by] = path[mid]!;
    const [ex, ey] = canal(film, 'MB').endPx;
    const tangentX = bx + ((bx - ax) / (by - ay)) * (ey - by);
    expect((ex - tangentX) * film.truth.mesialSide).toBeLessThan(-0.5 * pxPerMm(film));
  });
});

describe('greys', () => {
  it('keeps the order metal, gutta-percha, enamel, dentine, bone, lesion, air', () => {
    each((film, name) => {
      const has = (region: string) => film.truth.regions.some((spot) => spot.name === region);
      const order = ['metal', 'gutta-percha', 'enamel', 'dentine', 'bone', 'lesion', 'air'].filter(has);
      const greys = order.map((region) => mean(film, region));
      for (let i = 1; i < greys.length; i++) {
        expect(greys[i - 1]! - greys[i]!, `${name}: ${order[i - 1]} over ${order[i]}`).toBeGreaterThan(1);
      }
      expect(mean(film, 'enamel') - mean(film, 'dentine'), name).toBeGreaterThanOrEqual(20);
      expect(mean(film, 'bone') - mean(film, 'lesion'), name).toBeGreaterThanOrEqual(20);
    });
  });

  it('is white along a filling and dark along an empty canal', () => {
    const along = (film: DrawnFilm, label: string) => {
      const path = canal(film, label).pathPx;
      const coronal = path.slice(2, Math.floor(path.length / 2));
      return coronal.map(([x, y]) => discStatistics(film.grey, x, y, 1.2).mean);
    };
    for (const name of ['46-filled.tif', '46-filled-mesial.jpg', '24-filled.png']) {
      const film = films.get(name)!;
      for (const { name: label } of film.truth.canals) {
        for (const grey of along(film, label)) expect(grey, `${name} ${label}`).toBeGreaterThan(175);
      }
    }
    const before = films.get('46-before.png')!;
    for (const grey of along(before, 'D')) expect(grey).toBeLessThan(mean(before, 'dentine'));
  });

  it('shows a clamp while working and none before or after', () => {
    each((film, name) => {
      const working = name.includes('lengths') || name.includes('cones');
      expect(film.truth.clamp).toBe(working);
      if (working) expect(mean(film, 'neck'), name).toBeGreaterThan(235);
      else expect(mean(film, 'neck'), name).toBeLessThan(225);
    });
  });
});

it('draws the same picture from the same seed', () => {
  const again = drawOneFilm('46-before.png', 0.2);
  const once = drawOneFilm('46-before.png', 0.2);
  expect(Buffer.from(again.grey.data.buffer).equals(Buffer.from(once.grey.data.buffer))).toBe(true);
});

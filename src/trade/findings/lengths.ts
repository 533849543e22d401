import { isFilled } from '../canals.js';
import { LENGTH_SOURCE, lengthBand } from '../tooth-lengths.js';
import { finding, listed, type Rule } from './rule.js';

/** Recorded lengths. Nothing is ever filled in; an unlikely figure is only asked about. */
export const lengthRules: Rule[] = [
  ({ course }) => {
    const without = course.canals.filter((canal) => isFilled(canal) && canal.length === null);
    return without.length === 0
      ? []
      : [
          finding(
            'canal-missing-length',
            'missing',
            `${without.length === 1 ? 'Canal' : 'Canals'} ${listed(without.map(({ canal }) => canal))} ${without.length === 1 ? 'is' : 'are'} filled, but no length is recorded. Add length and reference.`,
          ),
        ];
  },
  ({ fdi, course }) => {
    const band = fdi === null ? null : lengthBand(fdi);
    if (band === null) return [];
    const resected = course.kind === 'root-end-surgery';
    return course.canals.flatMap(({ canal, length }) =>
      length !== null && (length > band.mostMm || (length < band.leastMm && !resected))
        ? [
            finding(
              'length-unlikely',
              'check',
              `Canal ${canal} is recorded as ${length} mm long; this tooth averages ${average(band.averageMm)} mm and ${band.leastMm} to ${band.mostMm} mm covers nearly all. Check the figure.`,
              LENGTH_SOURCE,
            ),
          ]
        : [],
    );
  },
];

const average = ([shortest, longest]: readonly [number, number]): string =>
  shortest === longest ? String(shortest) : `${shortest} to ${longest}`;

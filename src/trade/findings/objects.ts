import type { PictureRecord } from '../case-record.js';
import { isRightSide, toothWords } from '../teeth.js';
import { finding, listed, type Rule } from './rule.js';

const SOURCE = 'DICOM PS3.3, C.8.11.9: an intra-oral object names its teeth and its side';

/** What a DICOM object says it shows, against what the sidecar says of the picture. */
export const objectRules: Rule[] = [
  ({ pictures }) =>
    pictures.flatMap((picture) => {
      const here = teethOf(picture);
      const there = picture.object?.teeth ?? [];
      if (here.length === 0 || there.length === 0 || there.some((tooth) => here.includes(tooth))) return [];
      return [
        finding(
          'object-tooth-mismatch',
          'contradiction',
          `Picture ${picture.number} is listed as ${named(here)}, but its DICOM file says ${named(there)}. Look at the picture, then correct the tooth here or at the device it came from.`,
          SOURCE,
        ),
      ];
    }),
  ({ pictures }) =>
    pictures.flatMap((picture) => {
      const here = new Set(teethOf(picture).map((tooth) => (isRightSide(tooth) ? 'right' : 'left')));
      const there = picture.object?.side ?? 'both';
      if (here.size !== 1 || there === 'both' || here.has(there)) return [];
      return [
        finding(
          'object-side-mismatch',
          'contradiction',
          `Picture ${picture.number} is listed as a tooth of the patient's ${[...here].join()} side, but its DICOM file says ${there}. Look at the picture, then correct the tooth here or the side at the device it came from.`,
          SOURCE,
        ),
      ];
    }),
];

const teethOf = ({ teeth }: PictureRecord): number[] =>
  teeth.flatMap((tooth) => ('fdi' in tooth ? [tooth.fdi] : []));

const named = (teeth: readonly number[]): string =>
  listed(teeth.map((tooth) => `${tooth} (${toothWords(tooth)})`));

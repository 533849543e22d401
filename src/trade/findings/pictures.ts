import { handedness, parityOf } from '../anatomy/pose.js';
import { isSameCanal } from '../canals.js';
import type { PictureRecord } from '../case-record.js';
import { isSameTooth } from '../teeth.js';
import type { Side } from '../visit-document.js';
import { finding, listed, OWN_RULE, type Rule } from './rule.js';

/** Pictures against the canals, the tooth and the side they say they show. */
export const pictureRules: Rule[] = [
  ({ course, pictures, fdi }) => {
    const unseen = course.canals
      .filter(
        ({ canal }) =>
          !pictures.some((picture) => picture.canals.some((label) => isSameCanal(fdi, label, canal))),
      )
      .map(({ canal }) => canal);
    return unseen.length === 0
      ? []
      : [
          finding(
            'canal-picture-missing',
            'missing',
            `No picture names ${unseen.length === 1 ? 'canal' : 'canals'} ${listed(unseen)}. Add canals: [...] to the picture that shows ${unseen.length === 1 ? 'it' : 'them'}, or record why there is none.`,
          ),
        ];
  },
  ({ course, pictures, fdi }) =>
    pictures.flatMap((picture) => {
      const unknown = picture.canals.filter(
        (label) => !course.canals.some(({ canal }) => isSameCanal(fdi, canal, label)),
      );
      return unknown.length === 0
        ? []
        : [
            finding(
              'picture-canal-unknown',
              'contradiction',
              `Picture ${picture.number} names ${unknown.length === 1 ? 'canal' : 'canals'} ${listed(unknown)}, not recorded under canals. Record ${unknown.length === 1 ? 'it' : 'them'}, or correct the picture.`,
              OWN_RULE,
            ),
          ];
    }),
  ({ record, pictures }) =>
    pictures
      .filter(
        (picture) =>
          picture.teeth.length > 0 && !picture.teeth.some((tooth) => isSameTooth(tooth, record.tooth)),
      )
      .map((picture) =>
        finding(
          'tooth-mismatch',
          'contradiction',
          `Picture ${picture.number} names other teeth, but not the tooth of this case. Correct its teeth, or move it to the right case.`,
          OWN_RULE,
        ),
      ),
  ({ pictures }) =>
    pictures
      .filter(({ view }) => view === 'extraoral')
      .map(({ number }) =>
        finding(
          'extraoral-private',
          'note',
          `Picture ${number} is extraoral and may show a face, so it is kept for the practice and stands on no sheet.`,
          '45 CFR 164.514(b)(2)(i)(Q): full-face photographs and comparable images',
        ),
      ),
  ({ pictures, fdi }) =>
    pictures
      .filter((picture) => fdi !== null && isMirrored(fdi, picture))
      .map((picture) =>
        finding(
          'orientation-mirrored',
          'check',
          `Picture ${picture.number} is labelled so that it would be a mirror image of this tooth. Check mesial and buccal, and whether mirror: true is missing.`,
          'geometry: direct views of a tooth from the occlusal side differ only by a turn',
        ),
      ),
];

const DIRECTION: Record<Side, { x: number; y: number }> = {
  up: { x: 0, y: 1 },
  down: { x: 0, y: -1 },
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
};

/** Stages seen from the side of the root, where the occlusal rule does not hold. */
const FROM_THE_SIDE = ['flap', 'resection', 'root-end-filling', 'suture'];

function isMirrored(fdi: number, picture: PictureRecord): boolean {
  const { mesial, buccal } = picture.orientation ?? {};
  if (!mesial || !buccal || picture.view !== 'microscope' || FROM_THE_SIDE.includes(picture.stage))
    return false;
  const seen = handedness(DIRECTION[mesial], DIRECTION[buccal]);
  return seen !== 0 && seen !== parityOf(fdi);
}

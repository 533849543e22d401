import { isFilled } from '../canals.js';
import { isRadiograph } from '../views.js';
import { finding, type Rule } from './rule.js';

const BEFORE_SOURCE =
  'AAE Treatment Standards 2018/2019: well-angulated preoperative images; ESE, Int Endod J 2006;39:921-930 (from memory)';
const AFTER_SOURCE = 'ESE quality guidelines, Int Endod J 2006;39:921-930 (from memory)';

/** Radiographs that a complete record has. A missing one is looked for or explained, never taken for the record. */
export const shotRules: Rule[] = [
  ({ course, visit, pictures }) => {
    const treated = course.canals.length > 0 || pictures.some((picture) => picture.band !== 'before');
    if (!treated || visit?.state === 'consultation') return [];
    return pictures.some((picture) => isRadiograph(picture.view) && picture.band === 'before')
      ? []
      : [
          finding(
            'shot-missing',
            'missing',
            'No radiograph before treatment is on file. Look for it, or record why there is none.',
            BEFORE_SOURCE,
          ),
        ];
  },
  ({ course, visit, pictures }) => {
    if (visit?.state !== 'finished' || !course.canals.some(isFilled)) return [];
    return pictures.some((picture) => isRadiograph(picture.view) && picture.band === 'after')
      ? []
      : [
          finding(
            'shot-missing',
            'missing',
            'No radiograph after filling is on file. Look for it, or record why there is none.',
            AFTER_SOURCE,
          ),
        ];
  },
];

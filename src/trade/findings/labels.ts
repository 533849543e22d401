import { canalLabels, canalStanding, isSameCanal } from '../canals.js';
import { isPrimary, isUpper, placeOf, toothWords } from '../teeth.js';
import { finding, OWN_RULE, type Rule } from './rule.js';

/** Canal labels against the tooth and against each other. */
export const labelRules: Rule[] = [
  ({ fdi, course }) =>
    fdi === null
      ? []
      : course.canals
          .filter(({ canal }) => canalStanding(fdi, canal) === 'wrong')
          .map(({ canal }) =>
            finding(
              'label-wrong',
              'contradiction',
              `Canal ${canal} is recorded in a lower tooth (${toothWords(fdi)}), which has a lingual side, not a palatal one. Write L, or correct the tooth.`,
              'naming of tooth surfaces in the trade',
            ),
          ),
  ({ fdi, course }) =>
    fdi === null
      ? []
      : course.canals
          .filter(({ canal }) => canalStanding(fdi, canal) === 'unusual')
          .map(({ canal }) => finding('label-unusual', 'check', unusual(fdi, canal), LABEL_SOURCE)),
  ({ fdi, course }) => {
    const twice = course.canals.filter(({ canal }, at) =>
      course.canals.some((other, before) => before < at && isSameCanal(fdi, other.canal, canal)),
    );
    return twice.map(({ canal }) =>
      finding(
        'canal-twice',
        'contradiction',
        `Canal ${canal} is recorded twice. Keep one entry, or give the second canal its own label.`,
        OWN_RULE,
      ),
    );
  },
];

const LABEL_SOURCE = 'usual labels are trade usage; names for extra canals: Int J Dent 2012, 814789';

function unusual(fdi: number, canal: string): string {
  const upperMolar = isUpper(fdi) && placeOf(fdi) >= (isPrimary(fdi) ? 4 : 6);
  if (upperMolar && canal.trim().toUpperCase() === 'ML') {
    return `Canal ${canal} is recorded in an upper molar. Say which is meant: MB2, or MP for a second palatal canal.`;
  }
  return `Canal ${canal} is not a usual label for the ${toothWords(fdi)} (usual: ${canalLabels(fdi).usual.join(', ')}). Check that the tooth and the label are right.`;
}

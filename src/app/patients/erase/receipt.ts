import type { ErasePlan } from './plan.js';

/** Said before an erasure is confirmed, and on its receipt. */
export const RETENTION =
  'Records of patients must be kept for the period that local law asks, often many years after the last visit. Erase only when that period is over or the law asks for it; that decision is the licensed clinician’s.';

export const BACKUPS =
  'Backups and other copies outside of this practice folder were not reached. Erase them there, or let them expire. The files here were deleted, not overwritten: of a disk that is not encrypted a specialist may still recover them.';

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** What was, or would be, removed; counts only. */
export const extentOf = (plan: ErasePlan): string =>
  [
    counted(plan.codes.length, 'case', 'cases'),
    counted(plan.visits.length, 'visit', 'visits'),
    counted(plan.originals.length, 'original', 'originals'),
    counted(plan.held.length, 'held folder', 'held folders'),
  ].join(', ');

export const keptSentence = ({ keptOriginals }: ErasePlan): string | null =>
  keptOriginals === 0
    ? null
    : `${counted(keptOriginals, 'original', 'originals')} stayed, since another patient's visit or a held folder has the same picture.`;

export const recipientLine = ({ shareCode, template, to, on }: ErasePlan['recipients'][number]): string =>
  `${to}: sheet "${template}" under the share code ${shareCode}, ${on}`;

/** The receipt as it is kept: nothing in it says who the patient was. */
export function receiptText(plan: ErasePlan): string {
  const lines = [
    'Receipt of an erasure',
    '',
    `Receipt: ${plan.receipt}`,
    `Begun: ${plan.at}`,
    '',
    `Erased of one patient: ${extentOf(plan)}; with them the entry in the patient book, stripped copies, display`,
    'pictures, sheets, cover slips, drafts, reviews, lines of the journal, and what lay in the outbox.',
    keptSentence(plan),
    `Kept: the lines of the register (what was shared, when, to whom), without the patient; and ${counted(plan.originals.length, 'mark', 'marks')}`,
    'by which this practice knows an erased picture again. A mark cannot be turned back into a picture or a name.',
    '',
    'Still to be done by a person:',
    ...(plan.recipients.length === 0
      ? ['- Nothing of this patient was shared.']
      : [
          '- Ask these recipients to delete what they got:',
          ...plan.recipients.map((one) => `  - ${recipientLine(one)}`),
        ]),
    `- ${
      plan.inbox.length === 0
        ? 'No folder of the inbox holds pictures of this patient.'
        : `Remove ${counted(plan.inbox.length, 'folder', 'folders')} from the inbox; which, was said on the screen.`
    }`,
    plan.doubtful.length === 0
      ? null
      : `- Look at ${counted(plan.doubtful.length, 'folder', 'folders')} that may hold pictures of this patient or of another; which, was said on the screen.`,
    `- ${BACKUPS}`,
    '',
    RETENTION,
  ];
  return `${lines.filter((line) => line !== null).join('\n')}\n`;
}

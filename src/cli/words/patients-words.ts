import {
  BACKUPS,
  type ErasePlan,
  extentOf,
  keptSentence,
  RETENTION,
  recipientLine,
} from '../../app/patients/erase/index.js';
import type { InboxProposal } from '../../app/patients/inbox.js';
import type { ListedPatient } from '../../app/patients/list.js';

export const unknownPatient = (chart: string): string =>
  `Nobody on file has the chart number "${chart}". See: scopeleaf patients list. A patient without a chart number is named by a case code.`;

/** One patient: who, then a line a case. */
export function patientLines({ chart, names, born, cases }: ListedPatient): string[] {
  const who = [chart ?? 'no chart number', names.join(', ') || 'no name', born].filter(Boolean).join('; ');
  return [
    who,
    ...cases.map(({ code, tooth, visits }) => {
      const days = visits.map(({ date, pictures }) => `${date ?? 'no date'} (${pictures} pictures)`);
      return `  case ${code}, tooth ${toothWords(tooth)}: ${days.join(', ')}`;
    }),
  ];
}

const toothWords = (tooth: unknown): string =>
  typeof tooth === 'object' && tooth !== null ? Object.values(tooth).join(' ') : '';

export function inboxLines(proposals: readonly InboxProposal[]): string[] {
  if (proposals.length === 0) return ['There is no folder in the inbox.'];
  const removable = proposals.filter((one) => one.removable);
  return [
    ...removable.map(({ folder, files }) => `${folder}: all ${files} files are on file, byte for byte`),
    ...proposals.flatMap(({ folder, because }) => (because ? [`${folder}: keep it; ${because}`] : [])),
    removable.length === 0
      ? 'No folder is proven stored.'
      : `${removable.length} of ${proposals.length} folders may be removed from the inbox, by you; nothing was removed.`,
  ];
}

export function protectedLines(
  already: boolean,
  how: 'passphrase' | 'key-file' | null,
  originals: boolean,
  changed: number,
): string[] {
  const what = originals ? 'The private records and the pictures' : 'The private records';
  if (already) return [`${what} are encrypted already.`];
  const key =
    how === 'passphrase'
      ? 'Without the passphrase nobody can read them again, not even you: keep it where it cannot be lost.'
      : 'Without the key file nobody can read them again, not even you: keep a second copy of it in a safe place, and neither beside the practice.';
  return [
    `${what} are encrypted (${changed} files).`,
    key,
    'Backups made before are not encrypted. What was deleted here may be recovered from a disk that is not encrypted.',
    ...(originals ? [] : ['Originals are not encrypted; add --originals for that.']),
  ];
}

/** Said before the question, on the screen only: it names the patient. */
export const beforeErasing = (
  { chart, names }: { chart: string | null; names: readonly string[] },
  plan: ErasePlan,
): string[] => [
  `To be erased for good: ${[chart, names.join(', ')].filter(Boolean).join(', ')}: ${extentOf(plan)}.`,
  RETENTION,
];

export function erasedLines(plan: ErasePlan, paper: string): string[] {
  const kept = keptSentence(plan);
  return [
    `Erased: ${extentOf(plan)}. Receipt ${plan.receipt}, kept as private/${paper}.`,
    ...(kept ? [kept] : []),
    'Still to be done by you:',
    ...(plan.recipients.length === 0
      ? ['- Nothing of this patient was shared.']
      : [
          '- Ask these recipients to delete what they got:',
          ...plan.recipients.map((one) => `  ${recipientLine(one)}`),
        ]),
    ...(plan.inbox.length === 0
      ? ['- No folder of the inbox holds pictures of this patient.']
      : ['- Remove these folders from the inbox:', ...plan.inbox.map((name) => `  ${name}`)]),
    ...(plan.doubtful.length === 0
      ? []
      : [
          "- Look at these folders: they may hold this patient's pictures or another's, so their other originals stayed:",
          ...plan.doubtful.map((name) => `  ${name}`),
        ]),
    `- ${BACKUPS}`,
  ];
}

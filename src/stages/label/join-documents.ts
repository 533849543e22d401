import { fullToothName } from '../../trade/teeth.js';
import type { Draft } from './draft.js';
import { type Path, pathKey } from './read-node.js';

/**
 * Documents of one file belong to one patient and one day, and each to a tooth of its own. A later document inherits
 * what it does not say; what it says otherwise about the patient or the date refuses the file.
 */
export function joinDocuments(drafts: readonly Draft[]): void {
  const first = drafts[0];
  if (first === undefined) return;
  const teeth = new Map<string, number>();
  drafts.forEach((draft, at) => {
    if (at > 0) {
      refuseOtherPatient(first, draft);
      inherit(first, draft);
    }
    if (!draft.toothKnown) return;
    const tooth = JSON.stringify(draft.document.tooth);
    const before = teeth.get(tooth);
    if (before !== undefined) {
      refuse(
        draft,
        ['tooth'],
        `${capital(fullToothName(draft.document.tooth))} is already document ${before + 1} of this file. Put both into one document, or correct the tooth.`,
      );
    } else teeth.set(tooth, at);
  });
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function refuse(draft: Draft, path: Path, sentence: string): void {
  const offset = draft.places.get(pathKey(path))?.offset ?? draft.offset;
  draft.refusing.push({ offset, path, got: null, say: () => sentence });
}

const ONE_PATIENT = 'One file holds one patient. Put the other patient into a visit folder of its own.';

function refuseOtherPatient(first: Draft, draft: Draft): void {
  const said = draft.document.patient;
  const before = first.document.patient;
  const differs = {
    chart: said.chart !== null && said.chart !== before.chart,
    born: said.born !== null && said.born !== before.born,
    names: said.names.length > 0 && namesKey(said.names) !== namesKey(before.names),
  };
  for (const key of ['chart', 'born', 'names'] as const) {
    if (differs[key]) refuse(draft, ['patient', key], `This differs from the first document. ${ONE_PATIENT}`);
  }
  const { date } = draft.document.visit;
  if (date !== null && date !== first.document.visit.date) {
    refuse(
      draft,
      ['visit', 'date'],
      'This day differs from the first document. One file holds one visit; put another day into a folder of its own.',
    );
  }
}

const namesKey = (names: readonly string[]): string =>
  names
    .flatMap((name) =>
      name
        .normalize('NFC')
        .toLowerCase()
        .split(/[\s,]+/),
    )
    .filter((part) => part !== '')
    .sort()
    .join(' ');

/** Part by part, so that a document that says only how the visit ended keeps its date. */
function inherit(first: Draft, draft: Draft): void {
  const own = draft.document;
  const from = first.document;
  draft.document = {
    ...own,
    patient: {
      chart: own.patient.chart ?? from.patient.chart,
      names: own.patient.names.length > 0 ? own.patient.names : [...from.patient.names],
      born: own.patient.born ?? from.patient.born,
    },
    visit: { date: own.visit.date ?? from.visit.date, state: own.visit.state ?? from.visit.state },
    consent: draft.written.has('consent') ? own.consent : { ...from.consent },
  };
}

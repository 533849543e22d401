import type { Practice } from '../../practice/index.js';
import { caseOf, type OnFile, visitsOfCase } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { type MadeSheet, makeSheet } from '../sheet/make-sheet.js';
import { readStandingSheet, type StandingSheet } from '../sheet/standing-sheet.js';
import { readCase, type StandingCase } from '../standing-case.js';
import { Trouble } from '../trouble.js';
import { describeDrawn } from './describe-drawn.js';
import type { GateFacts } from './gate.js';
import { type ReadyContents, readContents } from './ready-contents.js';
import type { ShareWish } from './share-wish.js';
import { heldOfCase } from './what-is-held.js';
import { withdrawalFor } from './withdrawal.js';

export type Gathered =
  | { kind: 'gathered'; facts: GateFacts; ready: ReadyContents | null }
  | { kind: 'refused'; errors: ErrorReport[] };

/** Draws the sheet again, reads it again, and gathers all that the gate asks about. */
export async function gatherFacts(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  asked: ShareWish & { code: string; audience: string },
): Promise<Gathered> {
  const { code, audience, template } = asked;
  const standing = readCase(onFile, code);
  const facts = await factsOfCase(practice, onFile, standing, asked);
  const stood = await readStandingSheet(practice, code, template);
  const made = await drawAgain(practice, ports, standing, { audience, template, stood });
  if (made?.kind === 'refused' && !made.withdrawn) return { kind: 'refused', errors: made.errors };
  if (made?.kind !== 'made') return { kind: 'gathered', facts, ready: null };
  // Basis and faces were weighed for the audience that was asked for.
  if (made.audience !== audience) return { kind: 'refused', errors: [templateChanged(template)] };
  const record = standing.recordFor(audience);
  const ready = await readContents(practice, { ...standing, record }, made, asked.pictures);
  const drawn = await describeDrawn(practice, ports, onFile, { asked, record, made, stood, ready });
  return { kind: 'gathered', facts: { ...facts, drawn }, ready };
}

const templateChanged = (template: string): ErrorReport => ({
  file: `${template}.yaml`,
  line: 1,
  column: 1,
  field: 'audience',
  sentence: 'The template was changed while its sheet was being drawn. Nothing was shared; run this again.',
});

/** At the resolution of the sheet that stands, so that one made small for e-mail keeps its bytes. */
async function drawAgain(
  practice: Practice,
  ports: Ports,
  standing: StandingCase,
  { audience, template, stood }: { audience: string; template: string; stood: StandingSheet | null },
): Promise<MadeSheet | null> {
  const isBarred = (await withdrawalFor(practice, standing, audience)) !== null;
  if (standing.recordFor(audience).pictures.length === 0 && !isBarred) return null;
  const maxDpi = stood?.maxDpi;
  return makeSheet(practice, ports, standing, { template, ...(maxDpi === undefined ? {} : { maxDpi }) });
}

async function factsOfCase(
  practice: Practice,
  onFile: OnFile,
  standing: StandingCase,
  { code, audience, template, basis }: ShareWish & { code: string; audience: string },
): Promise<GateFacts> {
  const owner = caseOf(onFile, code);
  if (!owner) throw new Trouble({ code: 'bug', what: 'a case without its patient' });
  return {
    case: code,
    template,
    audience,
    settings: practice.settings,
    consent: standing.consent,
    wantedBasis: basis,
    withdrawal: await withdrawalFor(practice, standing, audience),
    patient: owner.patient,
    held: await heldOfCase(practice, onFile, code),
    unsearched: unsearchedIn(onFile, code),
    pictures: standing.recordFor(audience).pictures,
    drawn: null,
  };
}

/** Kept in a time when pictures were not searched yet. */
const unsearchedIn = (onFile: OnFile, code: string): string[] =>
  visitsOfCase(onFile, code).flatMap((visit) =>
    visit.pictures.flatMap(({ source, status, shown }) =>
      status === 'kept' && shown && shown.searched === undefined
        ? [`${source} of the visit "${visit.folder}"`]
        : [],
    ),
  );

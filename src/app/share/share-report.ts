import type { ShareRecord } from '../../practice/index.js';
import type { AuditHit } from '../../stages/audit/index.js';
import type { SheetLook } from '../review/looks.js';
import type { Basis } from './basis.js';
import type { GateFacts } from './gate.js';
import { type GateReason, gateSentence } from './gate-reason.js';
import { haveOlder } from './versions.js';
import { type Recipient, recipientOf, type Withdrawal } from './withdrawal.js';

/** What `share` prints. Keys are a contract. */
export interface ShareReport {
  shared: boolean;
  case: string;
  template: string;
  audience: string;
  to: string;
  /** Everything that stands against it, all at once; empty when it was shared. */
  reasons: { code: GateReason['code']; sentence: string }[];
  /** Folder of the outbox, relative to the practice folder. */
  outbox: string | null;
  shareCode: string | null;
  version: number | null;
  replaces: number | null;
  /** Of the sheet. */
  sha256: string | null;
  files: { name: string; sha256: string }[];
  by: string | null;
  basis: Basis | null;
  /** What in the pictures of the sheet asks for a look. */
  looks: SheetLook[];
  /** Places of the sheet's pictures that the audit is not sure of; a person may look once more. */
  possible: AuditHit[];
  /** Who has an earlier version and should get this one. */
  haveOlder: Recipient[];
  /** Private, by its path within the practice: says whose share code it is, and goes another way. Encrypted in a protected practice. */
  coverSlip: string | null;
  /** When a consent was withdrawn: who is to be asked to delete what, and in which words. */
  withdrawn: Withdrawal | null;
}

export type About = Pick<ShareReport, 'case' | 'template' | 'audience' | 'to'>;

const NOTHING = {
  outbox: null,
  shareCode: null,
  version: null,
  replaces: null,
  sha256: null,
  files: [],
  by: null,
  basis: null,
  looks: [],
  possible: [],
  haveOlder: [],
  coverSlip: null,
  withdrawn: null,
} satisfies Partial<ShareReport>;

/** Nothing has left. */
export const refusal = (about: About, reasons: readonly GateReason[], facts?: GateFacts): ShareReport => ({
  ...NOTHING,
  ...about,
  shared: false,
  reasons: reasons.map((reason) => ({ code: reason.code, sentence: gateSentence(reason) })),
  sha256: facts?.drawn?.sha256 ?? null,
  looks: [...(facts?.drawn?.looks ?? [])],
  possible: facts?.drawn?.audit.possible ?? [],
  withdrawn: facts?.withdrawal ?? null,
});

export function released(
  about: About,
  record: ShareRecord,
  facts: GateFacts,
  { earlier, coverSlip }: { earlier: readonly ShareRecord[]; coverSlip: string | null },
): ShareReport {
  const { shareCode, version, replaces, sha256, files, by, basis } = record;
  return {
    ...NOTHING,
    ...about,
    shared: true,
    reasons: [],
    outbox: `outbox/${shareCode}`,
    shareCode,
    version,
    replaces,
    sha256,
    files: files.map((file) => ({ name: file.name, sha256: file.sha256 })),
    by,
    basis,
    looks: [...(facts.drawn?.looks ?? [])],
    possible: facts.drawn?.audit.possible ?? [],
    haveOlder: haveOlder(earlier, record, record).map(recipientOf),
    coverSlip,
  };
}

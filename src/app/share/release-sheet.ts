import { readdir } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { type Practice, readRegister, type ShareRecord, sharesIn } from '../../practice/index.js';
import type { Ports } from '../ports.js';
import { orTrouble, Trouble } from '../trouble.js';
import { basisFor } from './basis.js';
import type { DrawnSheet, GateFacts } from './gate.js';
import { finishInterrupted, release, retire, sha256Of } from './outbox.js';
import { contentsAt, type ReadyContents } from './ready-contents.js';
import { type About, released, type ShareReport } from './share-report.js';
import { type Version, versionOf } from './versions.js';

/** What the gate has let through. */
export interface Cleared {
  about: About;
  facts: GateFacts;
  ready: ReadyContents;
}

/** Copies what was reviewed and audited to the outbox, enters it, and takes an earlier version out. */
export async function releaseSheet(
  practice: Practice,
  ports: Pick<Ports, 'random' | 'now'>,
  { about, facts, ready }: Cleared,
): Promise<ShareReport> {
  const { shared } = sharesIn(orTrouble(await readRegister(practice)));
  const { drawn } = facts;
  if (!drawn) throw new Trouble({ code: 'bug', what: 'a sheet shared before it was drawn' });
  const filesAt = (version: number) =>
    contentsAt(ready, version).map(({ name, bytes }) => ({
      name,
      sha256: sha256Of(bytes),
      bytes: bytes.length,
    }));
  const version = versionOf(shared, { ...about, sha256: drawn.sha256 }, filesAt);
  const record: ShareRecord = {
    ...entryOf(about, facts, drawn, version),
    id: Buffer.from(ports.random(8)).toString('hex'),
    at: ports.now().toISOString(),
    shareCode: ready.shareCode,
    what: ready.pictures.length > 0 ? 'sheet and pictures' : 'sheet',
    files: filesAt(version.version),
  };
  await releaseOrUndo(practice, ports, record, ready);
  await retire(practice, () => true);
  const coverSlip = about.audience === 'referrer' ? await coverSlipOf(practice, ready.shareCode) : null;
  return released(about, record, facts, { earlier: shared, coverSlip });
}

function entryOf(
  about: About,
  { audience, consent, settings, wantedBasis }: GateFacts,
  { sha256, reviews, audit }: DrawnSheet,
  version: Version,
) {
  const answer = basisFor(audience, consent, settings, wantedBasis);
  const review = reviews.findLast((one) => one.sha256 === sha256);
  if (!answer.covers || !review) throw new Trouble({ code: 'bug', what: 'a sheet shared past the gate' });
  const possible = audit.possible.length;
  return {
    ...about,
    ...version,
    by: review.by,
    basis: answer.basis,
    sha256,
    audit: { clean: true as const, possible },
  };
}

/** A full disk half-way leaves nothing behind but a line of the register that says so. */
async function releaseOrUndo(
  practice: Practice,
  ports: Pick<Ports, 'now'>,
  record: ShareRecord,
  ready: ReadyContents,
): Promise<void> {
  try {
    await release(practice, record, contentsAt(ready, record.version));
  } catch (error) {
    await finishInterrupted(practice, ports.now).catch(() => undefined);
    throw error;
  }
}

async function coverSlipOf(practice: Practice, shareCode: string): Promise<string | null> {
  const names = await readdir(practice.paths.records).catch(() => []);
  const slip = names.find((name) => name.startsWith(`${shareCode}-cover-slip.`));
  if (slip === undefined) return null;
  const path = join(practice.paths.records, slip);
  const within = relative(practice.root, path);
  return within.startsWith('..') ? path : within;
}

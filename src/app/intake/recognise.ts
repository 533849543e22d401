import type { PictureFacts } from '../../core/picture-facts.js';
import { inParallel } from '../in-parallel.js';
import type { OnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { Drop, DropFile } from './drop.js';

/** What each picture of a drop says about itself, by SHA-256. A picture that cannot say is held, with its reason. */
export type FactsOfDrop = Map<string, PictureFacts>;

/**
 * Reads metadata in a worker, once for equal bytes and not at all for bytes that are on file already.
 * A file that cannot be recognised gets its reason set, so that every later step sees it as held.
 */
export async function recognise(drop: Drop, onFile: OnFile, ports: Ports): Promise<FactsOfDrop> {
  const facts: FactsOfDrop = new Map();
  const unknown = new Map<string, DropFile>();
  for (const file of drop.files) {
    if (file.sha256 === null || file.reason) continue;
    const known = onFile.places.get(file.sha256)?.find((place) => place.picture.facts)?.picture.facts;
    if (known) facts.set(file.sha256, known);
    else unknown.set(file.sha256, file);
  }
  await inParallel([...unknown.values()], ports.workersAtOnce, async (file) => {
    const outcome = await ports.workers.identify({ path: file.path as string, name: file.name });
    if (outcome.kind === 'kept') facts.set(file.sha256 as string, outcome.value);
    else for (const twin of drop.files) if (twin.sha256 === file.sha256) twin.reason = outcome.reason;
  });
  return facts;
}

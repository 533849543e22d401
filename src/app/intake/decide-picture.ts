import type { Reason } from '../../core/reasons.js';
import { type Cover, decideCovers, decideFace, lookSentence } from '../../stages/cover/index.js';
import type { Searched } from '../../workers/index.js';
import type { Making, ToMake } from './making.js';
import { zonesFor } from './zones.js';

/** What is painted over, what a person should look at, and for whom the picture may stand. */
export interface Decision {
  covers: Cover[];
  look: string[];
  /** Null: anyone. */
  audiences: string[] | null;
}

/** From what the finders saw and what the sidecar says of it; the reason when a person must decide. */
export function decidePicture(
  { practice, answers }: Pick<Making, 'practice' | 'answers'>,
  { candidate: { file, facts }, entry }: ToMake,
  searched: Searched,
): { ok: true; decision: Decision } | { ok: false; reason: Reason } {
  const { texts, faces, widthPx, heightPx } = searched;
  const face = decideFace({ view: entry.view, faces, answers, file: entry.file });
  if (face.kind === 'held') return { ok: false, reason: face.reason };
  const zones = zonesFor(practice, facts, file.name);
  const { covers, looks, hold } = decideCovers({ texts, entry, zones, widthPx, heightPx });
  if (hold) return { ok: false, reason: hold };
  const audiences = face.kind === 'limited' ? face.audiences : null;
  return { ok: true, decision: { covers, look: looks.map(lookSentence), audiences } };
}

import { type Built, NOTHING } from '../layout/piece.js';
import type { BlockOf } from '../template/schema.js';
import type { BlockContext } from './block-context.js';

export function orificeDiagramBlock(
  _context: BlockContext,
  _options: BlockOf<'orifice-diagram'>,
  _widthPt: number,
): Built {
  return NOTHING;
}

import { latin1At } from '../../../../formats/bytes.js';
import type { Reading } from '../../reading.js';
import type { ReadNext } from '../next.js';

/** The header may stand after up to a kilobyte of something else (ISO 32000-1, annex H.3, note 13). */
export const isPdf = (bytes: Uint8Array): boolean => latin1At(bytes, 0, 1024).includes('%PDF-');

export async function readPdf(
  reading: Reading,
  _bytes: Uint8Array,
  where: string,
  _next: ReadNext,
): Promise<void> {
  reading.unread(where, { code: 'unreadable', what: 'PDF' });
}

import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Practice } from '../../practice/index.js';
import { DPI_STEPS } from './make-sheet.js';

/** A sheet as it lies under cases/<CODE>/sheets/. */
export interface StandingSheet {
  /** Relative to the practice folder. */
  path: string;
  /** Of the PDF. */
  sha256: string;
  /** What the list beside it says it shows; null when that cannot be read. */
  shown: { figure: number; number: number }[] | null;
  /** The resolution it was drawn at; absent when its list does not say. */
  maxDpi?: number;
}

export const sheetPath = (code: string, template: string): string => `cases/${code}/sheets/${template}.pdf`;

/** The sheet that stands; null when there is none. */
export async function readStandingSheet(
  practice: Practice,
  code: string,
  template: string,
): Promise<StandingSheet | null> {
  const path = sheetPath(code, template);
  const pdf = await readFile(join(practice.root, path)).catch(() => null);
  if (pdf === null) return null;
  const list = await readFile(join(practice.root, path.replace(/pdf$/, 'json')), 'utf8').catch(() => '');
  const sha256 = createHash('sha256').update(pdf).digest('hex');
  return { path, sha256, ...readList(list) };
}

/** Tolerant: the list may be an older program's, or spoilt. */
function readList(text: string): Pick<StandingSheet, 'shown' | 'maxDpi'> {
  try {
    const { pictures, maxDpi } = JSON.parse(text) as { pictures?: unknown; maxDpi?: unknown };
    const shown = Array.isArray(pictures) && pictures.every(isShown) ? pictures : null;
    const dpi = DPI_STEPS.find((step) => step === maxDpi);
    return { shown, ...(dpi === undefined ? {} : { maxDpi: dpi }) };
  } catch {
    return { shown: null };
  }
}

const isShown = (value: unknown): value is { figure: number; number: number } =>
  typeof value === 'object' &&
  value !== null &&
  'figure' in value &&
  typeof value.figure === 'number' &&
  'number' in value &&
  typeof value.number === 'number';

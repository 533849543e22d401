import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import type { FoundText } from '../../../../src/finders/finder.js';
import {
  type AuditedFile,
  type AuditTerms,
  type AuditTools,
  auditFile,
  NO_TERMS,
} from '../../../../src/stages/audit/index.js';

/** The patient all planted strings speak of. Invented. */
export const TERMS: AuditTerms = {
  ...NO_TERMS,
  patients: [{ chart: 'A-20417', names: ['Rowan Testcase'], born: '1984-06-02', visitDates: ['2026-02-11'] }],
};

/** A finder that reads nothing; pixels have tests of their own. */
export const blind: AuditTools = {
  searchTexts: async () => [],
  isAllowedText: () => false,
  pixelLimit: 100_000_000,
  pdfReaderFolder: dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json')),
};

/** A finder that counts its pictures and reads the same texts in each. */
export function reader(texts: Partial<FoundText>[]): AuditTools & { seen: string[] } {
  const seen: string[] = [];
  return {
    ...blind,
    seen,
    searchTexts: async ({ widthPx, heightPx, channels }) => {
      seen.push(`${widthPx}x${heightPx}x${channels}`);
      return texts.map((text) => ({
        box: [10, 20, 30, 8],
        text: '',
        confidence: 0.95,
        score: 0.9,
        by: 'net',
        ...text,
      }));
    },
  };
}

export const read = (
  bytes: Uint8Array | string,
  terms: AuditTerms = TERMS,
  tools: AuditTools = blind,
  kept: string[] = [],
): Promise<AuditedFile> =>
  auditFile(
    { bytes: typeof bytes === 'string' ? Buffer.from(bytes) : bytes, name: 'file', terms, kept },
    tools,
  );

export const kindsOf = ({ hits }: AuditedFile): string[] => [...new Set(hits.map(({ kind }) => kind))].sort();

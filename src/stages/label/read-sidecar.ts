import { buildTerms, type IdentityTerms } from '../../core/terms.js';
import { type SidecarSchema, sidecarSchema, toothUnder } from '../../trade/visit/index.js';
import { decodeText, EMPTY } from './decode-text.js';
import { holdIdentifyingTexts } from './identifying-texts.js';
import { joinDocuments } from './join-documents.js';
import { type LinePlace, placesIn } from './line-places.js';
import { parseYaml } from './parse-yaml.js';
import type { Problem } from './problem.js';
import { readDocument } from './read-document.js';
import { holdRepeated } from './repeated-entries.js';
import type { SidecarError, SidecarResult } from './sidecar-error.js';
import { wordProblems } from './word-problems.js';

interface ReadOptions {
  /** How messages name the file, e.g. "visit.yaml". */
  file: string;
  /** The practice's notation: lets a tooth be a bare number. */
  notation: 'fdi' | 'universal' | 'palmer' | null;
  /** What is on file of the same patient, searched for as well: a sidecar may say no more than the chart number. */
  onFile?: { names: readonly string[]; born: string | null };
}

const schemas = new Map<ReadOptions['notation'], SidecarSchema>();

/** Making a schema costs more than using it, so each is made once. */
function schemaUnder(notation: ReadOptions['notation']): SidecarSchema {
  const made = schemas.get(notation) ?? sidecarSchema(toothUnder(notation));
  schemas.set(notation, made);
  return made;
}

/** A broken file repeats itself; more messages than this help nobody. */
const MOST_ERRORS = 100;

/**
 * Reads a sidecar whole: every mistake of the file at once. A mistake in the YAML, an unknown top-level key, the
 * patient or the tooth refuses the file; any other holds its entry or key. Never throws for what a file says.
 */
export function readSidecar(bytes: Uint8Array, options: ReadOptions): SidecarResult {
  const decoded = decodeText(bytes);
  if (!decoded.ok) {
    const { line, column, sentence } = decoded;
    return { kind: 'refused', errors: [{ file: options.file, line, column, field: '', sentence }] };
  }
  const { documents, mistakes } = parseYaml(decoded.text);
  if (documents.length === 0 && mistakes.length === 0) mistakes.push({ offset: 0, sentence: EMPTY });
  const placeAt = placesIn(decoded.text);
  const lineAt = (offset: number): number => placeAt(offset).line;
  const schema = schemaUnder(options.notation);
  const drafts = documents.map((one) => readDocument(one, schema, lineAt));
  joinDocuments(drafts);
  const first = drafts[0]?.document;
  const terms = buildTerms(
    {
      chart: first?.patient.chart ?? null,
      names: [...new Set([...(first?.patient.names ?? []), ...(options.onFile?.names ?? [])])],
      born: first?.patient.born ?? options.onFile?.born ?? null,
    },
    first?.visit.date ?? null,
  );
  for (const draft of drafts) {
    holdRepeated(draft, lineAt);
    holdIdentifyingTexts(draft, terms);
  }
  const place = placer(decoded.text, placeAt, options.file, terms);
  const inYaml = mistakes.map(
    (one): Problem => ({ offset: one.offset, path: [], got: null, say: () => one.sentence }),
  );
  const refusing = [...inYaml, ...drafts.flatMap((one) => one.refusing)];
  if (refusing.length > 0) {
    return { kind: 'refused', errors: place([...refusing, ...drafts.flatMap((one) => one.holding)]) };
  }
  return {
    kind: 'read',
    documents: drafts.map(({ document, holding, heldFiles }) => ({
      document,
      heldFiles,
      errors: place(holding),
    })),
  };
}

/** Turns problems into errors in the order of the text, each at a place that exists in it. */
function placer(text: string, placeAt: (offset: number) => LinePlace, file: string, terms: IdentityTerms) {
  return (problems: readonly Problem[]): SidecarError[] =>
    [...problems]
      .sort((a, b) => a.offset - b.offset)
      .slice(0, MOST_ERRORS)
      .map((problem) => {
        const end = text.endsWith('\n') ? text.length - 1 : text.length;
        const { line, column } = placeAt(Math.min(problem.offset, end));
        return { file, line, column, ...wordProblems(problem, terms) };
      });
}

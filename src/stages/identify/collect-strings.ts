import type { IdentifyingString } from '../../core/picture-facts.js';
import { labelledValues } from './labelled-values.js';

/** More strings than any camera writes; each costs a search of the output. */
const MOST = 300;

/** Gathers strings that may identify, each once, free text also by its labels. */
export class StringCollector {
  readonly #strings = new Map<string, IdentifyingString>();

  /** `label`: the name of the field as its writer gave it, when that is free as well. */
  add(kind: IdentifyingString['kind'], field: string, value: string, label: string | null = null): void {
    const text = value.trim();
    if (text.length < 2) return;
    if (kind === 'free-text' || kind === 'other')
      for (const found of labelledValues(label === null ? text : `${label}: ${text}`))
        this.#put({ kind: found.kind, field, value: found.value });
    this.#put({ kind, field, value: text });
  }

  all(): IdentifyingString[] {
    return [...this.#strings.values()];
  }

  #put(string: IdentifyingString): void {
    const key = `${string.kind}\n${string.value}`;
    if (this.#strings.size < MOST && !this.#strings.has(key)) this.#strings.set(key, string);
  }
}

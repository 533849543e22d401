import type { CanalEntry } from '../../trade/visit-document.js';

/** Later wins field by field; null never wipes out what an earlier visit recorded. */
export function mergeFields<T extends object>(oldestFirst: readonly T[]): T {
  const merged: Record<string, unknown> = {};
  for (const one of oldestFirst) {
    for (const [key, value] of Object.entries(one)) {
      if (value !== null || !(key in merged)) merged[key] = value;
    }
  }
  return merged as T;
}

/** Canals by label, in the order they were first recorded; fields of one label merge as `mergeFields` says. */
export function mergeCanals(oldestFirst: readonly (readonly CanalEntry[])[]): CanalEntry[] {
  const byLabel = new Map<string, CanalEntry>();
  for (const canal of oldestFirst.flat()) {
    const earlier = byLabel.get(canal.canal);
    byLabel.set(canal.canal, earlier ? mergeFields([earlier, canal]) : canal);
  }
  return [...byLabel.values()];
}

import type { CanalEntry } from '../../src/trade/visit-document.js';

export const canal = (label: string, more: Partial<CanalEntry> = {}): CanalEntry => ({
  canal: label,
  length: 20,
  reference: null,
  size: null,
  taper: null,
  joins: null,
  dry: true,
  filled: 'gutta-percha and sealer',
  note: null,
  ...more,
});

export const canalsOf = (...labels: string[]): CanalEntry[] => labels.map((label) => canal(label));

/** A tooth as the record holds it: ISO 3950 for the 52 ordinary teeth, words for a supernumerary one. */
export type ToothRef = { fdi: number } | { supernumerary: string };

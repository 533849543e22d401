/** What is said of a file with more than one picture. `taken`: which of them. */
export const severalNote = (pictures: number, taken: 'first' | 'main' = 'first'): string =>
  `The file holds ${pictures} pictures; the ${taken} one was taken, the others were left out.`;

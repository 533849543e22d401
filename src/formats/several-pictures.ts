/** What is said of a file with more than one picture; nothing of one. `taken`: which of them. */
export const severalNotes = (pictures: number, taken: 'first' | 'main' = 'first'): string[] =>
  pictures < 2
    ? []
    : [`The file holds ${pictures} pictures; the ${taken} one was taken, the others were left out.`];

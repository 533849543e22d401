export interface LinePlace {
  /** Both 1-based. */
  line: number;
  column: number;
}

/** Line and column of an offset in a text whose lines end with a line feed; offsets past the end mean the end. */
export function placesIn(text: string): (offset: number) => LinePlace {
  const starts = [0];
  for (let at = text.indexOf('\n'); at !== -1; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  return (offset) => {
    const inside = Math.max(0, Math.min(offset, text.length));
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (starts[middle]! <= inside) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: inside - starts[low]! + 1 };
  };
}

/** Text for a person, wrapped to the terminal; values for a program go through `printJson`. */

const width = (): number => Math.min(process.stdout.columns || 80, 100);

export const printLine = (text = '', indent = ''): void => {
  process.stdout.write(`${wrap(text, width(), indent)}\n`);
};

/** A text to be copied as it is: no line is indented. */
export const printText = (text: string): void => {
  process.stdout.write(`${wrap(text, width(), '').replace(/\n {2}/g, '\n')}\n`);
};

export const printError = (text: string): void => {
  process.stderr.write(`${wrap(text, width(), '')}\n`);
};

export const printJson = (value: unknown): void => {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
};

/**
 * Breaks text at spaces so that no line is wider than `columns`; further lines are indented two more than the first.
 * A word that is wider stays whole, so that a path can be copied. Control characters are shown, never sent.
 */
export function wrap(text: string, columns: number, indent: string): string {
  const lines: string[] = [];
  let line = indent;
  let fresh = true;
  for (const word of visible(text).split(' ')) {
    if (!fresh && line.length + 1 + word.length > columns) {
      lines.push(line);
      line = `${indent}  ${word}`;
    } else {
      line = fresh ? `${line}${word}` : `${line} ${word}`;
    }
    fresh = false;
  }
  return [...lines, line].join('\n');
}

/** A file name may hold a line break or an escape sequence that would repaint the terminal. */
const visible = (text: string): string =>
  text.replace(/\p{Cc}/gu, (char) => `\\x${char.charCodeAt(0).toString(16).padStart(2, '0')}`);

import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';

/** Asks at the terminal without showing what is typed. @returns null when nothing was typed or the input has ended */
export async function askHidden(prompt: string): Promise<string | null> {
  const unseen = new Writable({ write: (_chunk, _encoding, done) => done() });
  const answer = readLine(unseen, '');
  // Only now, since from here on the terminal itself shows nothing of what is typed.
  process.stderr.write(prompt);
  const line = await answer;
  process.stderr.write('\n');
  return line;
}

/** Asks at the terminal. */
export const askOpenly = (prompt: string): Promise<string | null> => readLine(process.stderr, prompt);

export const hasTerminal = (): boolean => process.stdin.isTTY === true && process.stderr.isTTY === true;

function readLine(output: NodeJS.WritableStream, prompt: string): Promise<string | null> {
  const lines = createInterface({ input: process.stdin, output, terminal: true, historySize: 0 });
  return new Promise((resolve) => {
    lines.question(prompt, (line) => {
      resolve(line === '' ? null : line);
      lines.close();
    });
    lines.once('SIGINT', () => {
      lines.close();
      process.stderr.write('\n');
      process.kill(process.pid, 'SIGINT');
    });
    lines.once('close', () => resolve(null));
  });
}

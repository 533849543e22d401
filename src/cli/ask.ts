import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';

/** Asks at the terminal without showing what is typed. @returns null when nothing was typed or the input has ended */
export async function askHidden(prompt: string): Promise<string | null> {
  process.stderr.write(prompt);
  const unseen = new Writable({ write: (_chunk, _encoding, done) => done() });
  const answer = await readLine(unseen);
  process.stderr.write('\n');
  return answer;
}

/** Asks at the terminal. */
export async function askOpenly(prompt: string): Promise<string | null> {
  process.stderr.write(prompt);
  return readLine(process.stderr);
}

export const hasTerminal = (): boolean => process.stdin.isTTY === true && process.stderr.isTTY === true;

function readLine(output: NodeJS.WritableStream): Promise<string | null> {
  const lines = createInterface({ input: process.stdin, output, terminal: true, historySize: 0 });
  return new Promise((resolve) => {
    lines.once('line', (line) => {
      lines.close();
      resolve(line === '' ? null : line);
    });
    lines.once('SIGINT', () => {
      lines.close();
      process.stderr.write('\n');
      process.kill(process.pid, 'SIGINT');
    });
    lines.once('close', () => resolve(null));
  });
}

import { main } from '../../src/cli/main.js';
import type { Ran } from './run-cli.js';

/**
 * Runs a command inside the test's own process: a second cheaper than a new one. What needs its own environment,
 * working folder or signals goes through `scopeleaf` of run-cli.ts. One at a time, since there is one stdout.
 */
export async function runHere(args: readonly string[]): Promise<Ran> {
  const out = capture(process.stdout);
  const err = capture(process.stderr);
  const listening = process.stdout.listeners('error');
  const { SCOPELEAF_PRACTICE: outside } = process.env;
  delete process.env['SCOPELEAF_PRACTICE'];
  try {
    const exit = await main(args);
    return { exit, stdout: out.text(), stderr: err.text() };
  } finally {
    out.end();
    err.end();
    if (outside !== undefined) process.env['SCOPELEAF_PRACTICE'] = outside;
    for (const one of process.stdout.listeners('error')) {
      if (!listening.includes(one)) process.stdout.off('error', one as () => void);
    }
  }
}

function capture(stream: NodeJS.WriteStream) {
  const { write } = stream;
  let text = '';
  stream.write = ((chunk: string | Uint8Array) => {
    text += typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8');
    return true;
  }) as typeof stream.write;
  return {
    text: () => text,
    end: () => {
      stream.write = write;
    },
  };
}

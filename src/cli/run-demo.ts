import { runSamples } from '../app/demo.js';
import { openPorts } from '../app/session.js';
import { printError, printJson, printLine } from './print.js';
import { showProgress } from './progress.js';
import { printVisit } from './words/visit-words.js';

/**
 * The main job on the drawn sample visits, in a practice of its own. The last line is the path of a sheet.
 * @returns 0 when the sound visits were taken in and the faulty one was refused, as they should be
 */
export async function runDemo(dir: string | null, json: boolean): Promise<number> {
  const progress = showProgress();
  const ports = openPorts(progress);
  try {
    const demo = await runSamples(dir, ports, (reports) => {
      progress.end();
      for (const report of json ? [] : reports) {
        printVisit(report);
        printLine();
      }
    });
    if (demo.kind === 'refused') {
      printError(demo.sentence);
      return 2;
    }
    if (json) printJson(demo.reports);
    else {
      printLine('The visit named "mistakes" is faulty on purpose: this is what an assistant sees.');
      printLine(`Everything lies in ${demo.root}`);
      // The last line is the path alone, of the case with the most to show.
      const [first, ...others] = demo.sheets;
      for (const sheet of others) printLine(`Another sheet: ${sheet}`);
      process.stdout.write(`${first ?? demo.root}\n`);
    }
    return demo.asExpected ? 0 : 1;
  } finally {
    progress.end();
    await ports.close();
  }
}

/** A program that starts one child, says its process id, and waits to be killed. */
import { openWorkers } from '../../dist/workers/index.js';

const workers = openWorkers({ size: 1, childModule: new URL('./faulty-child.mjs', import.meta.url) });
const outcome = await workers.identify({ path: '', name: 'hello' });
console.log(outcome.value.pid);
if (process.argv[2] === 'busy') void workers.identify({ path: '', name: 'wait' });
if (process.argv[2] !== 'leave') setInterval(() => {}, 1000);

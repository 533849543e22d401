/** What a child process runs. Started by open-workers.ts, never by hand; argument 1 is its memory limit in bytes. */
import sharp from 'sharp';
import { pictureHandlers } from './make-picture.js';
import { serveJobs } from './serve-jobs.js';

// One thread and no cache: children run side by side, and each picture is seen once.
sharp.cache(false);
sharp.concurrency(1);

// Allow-list of decoders: only formats that can be stripped ever reach one, whatever else sharp was built with.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['Jpeg', 'Png', 'Tiff', 'Webp'].map((format) => `VipsForeignLoad${format}`),
});

// Ctrl-C at a terminal reaches every process of the program. The parent decides: it finishes the picture at work, or
// ends, and this process with it.
process.on('SIGINT', () => undefined);

serveJobs(pictureHandlers, Number(process.argv[2]));

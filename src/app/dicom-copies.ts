import { mkdir, readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { sentenceOf } from '../core/reason-sentence.js';
import type { Reason } from '../core/reasons.js';
import { type Practice, placeFile, removeFile } from '../practice/index.js';
import type { FiledPicture } from '../stages/record/index.js';
import { type OnFile, visitsOfCase } from './on-file.js';
import type { Ports } from './ports.js';
import type { ErrorReport } from './report.js';
import { strippedExtension } from './stripped-extension.js';
import { orTrouble } from './trouble.js';

/** "03-pre-op.dcm" beside the display picture "images/03-pre-op.png". */
const copyName = (imageFile: string): string => basename(imageFile).replace(/\.[a-z]+$/, '.dcm');

/**
 * De-identified DICOM copies of a case's pictures under cases/<CODE>/dicom/, when practice.yaml asks for them; none
 * stays when it does not. Only pictures that were searched and may be seen by anyone are copied.
 */
export async function writeDicomCopies(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  code: string,
): Promise<ErrorReport[]> {
  const folder = join(practice.paths.cases, code, 'dicom');
  const wanted = practice.settings.dicomCopies ? visitsOfCase(onFile, code).flatMap(copied) : [];
  // All go first: one that a kill left may lack a cover that its picture has got since.
  for (const name of await readdir(folder).catch(() => [])) orTrouble(await removeFile(join(folder, name)));
  const errors: ErrorReport[] = [];
  if (wanted.length > 0) await mkdir(folder, { recursive: true });
  for (const { sha256, file, covers, flipped, extension } of wanted) {
    const into = join(practice.paths.tmp, `${sha256}-copy`);
    const path = join(practice.paths.stripped, `${sha256}.${extension}`);
    const copied = await ports.workers.copy({ path, covers, flipped, into });
    if (copied.kind === 'kept') orTrouble(await placeFile(into, join(folder, copyName(file))));
    else errors.push(notCopied(file, copied.reason));
  }
  return errors;
}

/** One copy that cannot be made costs neither the sheet nor the others. */
const notCopied = (file: string, reason: Reason): ErrorReport => ({
  file: 'visit.yaml',
  line: 1,
  column: 1,
  field: 'dicomCopies',
  sentence: `No DICOM copy was made of ${basename(file)}: ${sentenceOf(reason)}`,
});

function copied({ pictures }: { pictures: readonly FiledPicture[] }) {
  return pictures.flatMap(({ sha256, status, facts, shown }) =>
    status === 'kept' && facts?.format === 'DICOM' && shown?.searched && !shown.audiences
      ? [
          {
            sha256,
            file: shown.file,
            covers: (shown.covers ?? []).map(({ box }) => box),
            flipped: shown.flipped,
            extension: strippedExtension(facts, shown.frame ?? 1),
          },
        ]
      : [],
  );
}

import type { OtherPatientBecause, Reason } from './reasons.js';

const WHAT_INSTEAD = {
  link: 'a link to another file',
  pipe: 'a pipe',
  socket: 'a socket',
  device: 'a device',
  'folder-too-deep': 'a folder too deep inside the visit folder',
} as const;

const DIED = {
  time: 'took too long to open',
  memory: 'needed too much memory to open',
  crash: 'crashed the program that opens pictures',
} as const;

/** What was seen, then what to do. One sentence each; plain words for someone who does not program. */
export function sentenceOf(reason: Reason): string {
  switch (reason.code) {
    case 'empty-file':
      return 'The file is empty. Copy it again from the camera or the card.';
    case 'not-a-file':
      return `This is ${WHAT_INSTEAD[reason.what]}, not a picture file, and was not opened. Put the picture itself into the folder.`;
    case 'name-not-utf8':
      return 'The file name has characters that cannot be read, so the file was not opened. Rename it with plain letters and numbers.';
    case 'names-collide':
      return `The names ${reason.names.map((name) => `"${name}"`).join(' and ')} differ only in capitals or accents, so the sidecar cannot tell them apart. Rename one of them.`;
    case 'changing':
      return 'The file changed while it was being read. Wait until copying has finished, then take the visit in again.';
    case 'too-large':
      return `The file is ${megabytes(reason.bytes)} and the limit is ${megabytes(reason.limitBytes)}. Export the picture in a smaller format.`;
    case 'unreadable':
      return `The file could not be read (${reason.what}). Check that it can be opened, then take the visit in again.`;
    case 'listed-absent':
      return `The sidecar lists this picture${reason.line === null ? '' : ` on line ${reason.line}`}, but it is not in the folder. Add the picture, or take the line out.`;
    case 'unknown-format':
      return 'This is not a picture format that can be taken in. Export it as JPEG, PNG, TIFF, WebP, HEIC or DICOM.';
    case 'disc-index':
      return 'This is the index of a DICOM disc (DICOMDIR), not a picture; such an index often lists patients by name. Add the pictures themselves.';
    case 'several-frames':
      return `The file holds ${reason.frames} frames; a whole volume can show a face, so one frame must be chosen. Add frame: and its number (from 1) to the picture's line in the sidecar.`;
    case 'frame-absent':
      return `The sidecar asks for frame ${reason.frame}, but the file holds ${reason.frames}. Correct frame: in the picture's line.`;
    case 'not-searched':
      return `The picture could not be searched for ${reason.what === 'text' ? 'burned-in text' : 'faces'}, so it stays private. Take the visit in again; if that does not help, export the picture anew.`;
    case 'face':
      return `${reason.because === 'extraoral' ? 'The picture is listed as extraoral and may show a face' : 'There seems to be a face in the picture'}, so it stays private until a person has decided. Look at it, then write in the sidecar: answers: [{code: face, file: its name, by: your initials, why: "..."}]; it then serves the private record only, unless you name the file and add audience: and for whom.`;
    case 'cover-over-anatomy':
      return `Burned-in text lies over ${OVER[reason.over]} (${placesOf(reason.places, reason.boxes)}), and covering it could mislead. Look at the picture, then write keep: or cover: with that box, by: and why: in its line of the sidecar.`;
    case 'locked':
      return 'The private records are locked, so nothing can be looked up in them or added. Unlock them with the key file or the passphrase, then do this again; pictures of a visit that was dropped are stored safely meanwhile.';
    case 'protection-changed':
      return 'Meanwhile another command has begun or ended the encryption of the private records. Nothing was changed; run this again.';
    case 'erased':
      return 'These pictures belong to a patient who was erased on request, so they were not taken in. Remove the folder from the inbox.';
    case 'damaged':
      return `The ${reason.format} file is damaged: ${reason.what}. Copy it again from the camera or the card.`;
    case 'unusual':
      return `The ${reason.format} file has something that is never let through: ${reason.what}. Export the picture again as a plain ${reason.format}.`;
    case 'too-many-pixels':
      return `The picture has ${reason.megapixels} megapixels and the limit is ${reason.limitMegapixels}. Export it smaller.`;
    case 'metadata-left':
      return `Metadata was still there after stripping (${reason.kinds.join(', ')}), so the picture stays private. Export it again without metadata.`;
    case 'pixels-changed':
      return 'Stripping the metadata would have changed the picture, so it stays private. Export it again from the source.';
    case 'unlabelled':
      return 'The sidecar does not list this picture. Add a line for it under images, or remove it from the folder.';
    case 'replaced':
      return 'Another picture of this visit now has this name, so this earlier one stands on no sheet; its original is kept. If both belong to the visit, give them different names, list both and take the visit in again.';
    case 'entry-faulty':
      return `The sidecar entry for this picture has a mistake in ${reason.fields.join(', ')}. Correct it and take the visit in again.`;
    case 'caption-identifies':
      return `${reason.field} seems to hold the patient's name, number, a date or contact data, so it is left out. Reword it and take the visit in again.`;
    case 'other-patient':
      if (reason.because === 'chart-of-another') return CHART_OF_ANOTHER;
      return `${OTHER_PATIENT[reason.because]}${reason.pictures.length === 0 ? '' : ` (${listed(reason.pictures)})`}. Nothing was made of this visit. Remove what belongs elsewhere, or confirm in the sidecar: answers: [{code: ${reason.because === 'capture-dates' ? 'capture-dates' : 'other-patient'}, file: its name, by: your initials, why: "..."}], one for each picture.`;
    case 'no-sidecar':
      if (reason.instead !== undefined)
        return `There is no visit.yaml in the folder, but "${reason.instead}" looks like it. Rename it to visit.yaml.`;
      return reason.empty
        ? 'The folder is empty: neither pictures nor visit.yaml are in it. Copy them into it, or check that it is the right folder.'
        : 'There is no visit.yaml in the folder. Make one with: scopeleaf draft, correct it, and put it into the folder.';
    case 'two-sidecars':
      return `There are two sidecars, ${reason.names.join(' and ')}, and they differ. Keep the one that is right and remove the other.`;
    case 'sidecar-unread':
      return SIDECAR_UNREAD[reason.what];
    case 'sidecar-refused':
      return 'visit.yaml has mistakes that must be corrected first. The pictures are stored safely.';
    case 'worker-died':
      return `The picture ${DIED[reason.what]} and was set aside; the others went on. Export it again, or smaller.`;
    case 'disk':
      return `The disk refused (${reason.what}). Nothing was lost; free some space or check the disk, then run this again.`;
    case 'ledger-damaged':
      return `${reason.line === null ? '' : `Line ${reason.line} of `}private/${reason.file} cannot be read, so nothing more is written to it. Restore it from a copy, then run this again.`;
    case 'practice-busy':
      return `The practice is in use by "${reason.what}" (process ${reason.pid} on ${reason.host}, since ${reason.since}). Wait until it has finished, then run this again.`;
    case 'bug':
      return `Something went wrong inside the program (${reason.what}). The original is safe; please report this.`;
  }
}

const SIDECAR_UNREAD = {
  empty:
    'visit.yaml is empty. Fill it in, or make one with: scopeleaf draft, correct it, and put it into the folder.',
  'no-plain-file':
    'visit.yaml is a link or something else that is no plain file, and was not opened. Put the file itself into the folder.',
  changing: 'visit.yaml changed while it was being read. Save it, then take the visit in again.',
  'too-large': 'visit.yaml is far too large to be a sidecar. Check that it is the right file.',
  unreadable:
    'visit.yaml is there but cannot be read. Check that you can open it, then take the visit in again.',
} as const;

const CHART_OF_ANOTHER =
  'The chart number is on file with another name. Nothing was made of this visit. Correct the chart number; if it is the same person under a new name, list both names in the sidecar: names: [new name, old name].';

const OTHER_PATIENT: Record<Exclude<OtherPatientBecause, 'chart-of-another'>, string> = {
  'name-in-pixels': 'Some pictures show the name, birth date or number of another patient',
  'name-in-metadata': 'Some pictures carry the name or number of another patient',
  'capture-dates': 'The pictures were taken on different days, so some may belong to another patient',
  'filed-under-another': 'Some pictures are already filed under another patient',
};

const OVER = {
  'root-end': 'a root end',
  filling: 'a filling',
  lesion: 'a marked lesion',
  landmark: 'a landmark',
} as const;

const placesOf = (places: number[][] | undefined, count: number): string => {
  const shown = (places ?? []).slice(0, 5).map((box) => `[${box.join(', ')}]`);
  const more = count > shown.length && shown.length > 0 ? ` and ${count - shown.length} more` : '';
  return shown.length > 0 ? `at ${shown.join(', ')}${more}` : count === 1 ? 'one place' : `${count} places`;
};

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(0)} MB`;

const listed = (names: string[]): string =>
  names.length <= 5 ? names.join(', ') : `${names.slice(0, 5).join(', ')} and ${names.length - 5} more`;

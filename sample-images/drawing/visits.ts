/** The sample visits: which picture lies in which folder under which name, and what its device wrote into it. */
import { PATIENT_A, SHOTS_A } from './stills/case-a.js';
import { PATIENT_B, SHOTS_B } from './stills/case-b.js';
import { PATIENT_D, SHOTS_D } from './stills/case-d.js';
import type { Patient, Shot } from './stills/scene.js';

export interface StillFile {
  file: string;
  kind: 'still';
  tooth: Patient;
  shot: Shot;
  /** "14:31:07" on the visit's day. */
  at: string;
  /** Stored turned, with the EXIF orientation that puts it right. */
  orientation: 1 | 6;
  profile: 'srgb' | 'p3';
  widthPx: number;
}
export interface FilmFile {
  file: string;
  kind: 'film';
  /** Name of the drawn film. */
  film: string;
  at: string;
  /** What its device printed into a corner of the picture. */
  burned?: readonly string[];
}
export interface CopyFile {
  file: string;
  kind: 'copy';
  of: string;
}
export interface SampleVisit {
  folder: string;
  sidecar: string;
  /** As EXIF writes days. */
  day: string;
  patient: { name: string; chart: string; born: string };
  files: (StillFile | FilmFile | CopyFile)[];
}

const still = (
  file: string,
  at: string,
  tooth: Patient,
  shot: Shot,
  more: Partial<StillFile> = {},
): StillFile => ({
  ...{ file, kind: 'still', tooth, shot, at, orientation: 1, profile: 'srgb', widthPx: 1600 },
  ...more,
});
const film = (file: string, at: string, drawn: string): FilmFile => ({ file, kind: 'film', film: drawn, at });

const ROWAN = { name: 'Rowan Testcase', chart: 'A-20417', born: '1984-06-02' };
const JUNIPER = { name: 'Juniper Sample', chart: 'B-1188', born: '1991-09-17' };
const MARLOW = { name: 'Marlow Specimen', chart: 'C-0093', born: '1978-03-04' };

export const VISITS: readonly SampleVisit[] = [
  {
    folder: '2026-02-11 room 2',
    sidecar: 'a-1.yaml',
    day: '2026:02:11',
    patient: ROWAN,
    files: [
      // a PNG that its device named JPG
      film('films/FILM0001.JPG', '14:04:31', '46-before.png'),
      still('IMG_0412.JPG', '14:13:08', PATIENT_A, SHOTS_A.preOp),
      still('IMG_0413.JPG', '14:34:50', PATIENT_A, SHOTS_A.access),
      still('IMG_0414.JPG', '14:41:22', PATIENT_A, SHOTS_A.orifices, { profile: 'p3' }),
      { file: 'IMG_0414 (2).JPG', kind: 'copy', of: 'IMG_0414.JPG' },
      film('films/FILM0002.JPG', '14:55:12', '46-lengths.jpg'),
      still('IMG_0417.JPG', '15:09:46', PATIENT_A, SHOTS_A.troughed),
      still('IMG_0419.JPG', '15:38:03', PATIENT_A, SHOTS_A.paste),
      still('IMG_0420.JPG', '15:44:27', PATIENT_A, SHOTS_A.temporary),
    ],
  },
  {
    folder: '2026-02-25 room 2',
    sidecar: 'a-2.yaml',
    day: '2026:02:25',
    patient: ROWAN,
    files: [
      film('films/FILM0007.JPG', '10:21:40', '46-cones.jpg'),
      still('IMG_0466.JPG', '10:33:15', PATIENT_A, SHOTS_A.drying),
      still('IMG_0469.JPG', '10:58:02', PATIENT_A, SHOTS_A.obturation, { orientation: 6 }),
      still('IMG_0471.JPG', '11:06:39', PATIENT_A, SHOTS_A.seal),
      still('IMG_0473.JPG', '11:21:11', PATIENT_A, SHOTS_A.core),
      film('films/film8.tif', '11:33:54', '46-filled.tif'),
      film('films/FILM0009.JPG', '11:35:20', '46-filled-mesial.jpg'),
    ],
  },
  {
    folder: '2026-03-18 room 1',
    sidecar: 'b-1.yaml',
    day: '2026:03:18',
    patient: JUNIPER,
    files: [
      // its device prints who and when into the picture itself
      {
        ...film('films/FILM0021.JPG', '09:02:10', '24-before.jpg'),
        burned: ['SAMPLE, JUNIPER', 'Chart B-1188   18.03.2026 09:02'],
      },
      still('IMG_0188.JPG', '09:10:57', PATIENT_B, SHOTS_B.preOp),
      still('IMG_0189.JPG', '09:28:33', PATIENT_B, SHOTS_B.access, { profile: 'p3' }),
      film('films/FILM0022.JPG', '09:37:18', '24-lengths.jpg'),
      still('IMG_0192.JPG', '09:59:41', PATIENT_B, SHOTS_B.orifices),
      still('IMG_0195.JPG', '10:20:09', PATIENT_B, SHOTS_B.obturation),
      still('IMG_0197.JPG', '10:34:45', PATIENT_B, SHOTS_B.core),
      film('films/FILM0023.PNG', '10:45:02', '24-filled.png'),
    ],
  },
  {
    folder: '2026-03-20 room 1 mistakes',
    sidecar: 'd-mistakes.yaml',
    day: '2026:03:20',
    patient: MARLOW,
    files: [
      still('IMG_0231.JPG', '16:02:20', PATIENT_D, SHOTS_D.access, { widthPx: 800 }),
      still('IMG_0232.JPG', '16:11:05', PATIENT_D, SHOTS_D.orifices, { widthPx: 800 }),
      // the blurred twin of the picture before
      still('IMG_0233.JPG', '16:11:09', PATIENT_D, SHOTS_D.orificesBlurred, { widthPx: 800 }),
    ],
  },
];

import { dirname, join, normalize } from 'node:path';

interface Room {
  /** Other rooms whose files this one may import; its own are always allowed, save between stages. */
  rooms: string[];
  /** npm packages. */
  packages: string[];
  /** Node's own modules that reach the disk, the clock or other processes. */
  disk: boolean;
}

/** The house plan. A new room or package is entered here first, with its reason in DEVELOPERS.md. */
export const ROOMS: Record<string, Room> = {
  core: { rooms: [], packages: ['zod'], disk: false },
  trade: { rooms: ['core'], packages: ['zod'], disk: false },
  formats: {
    rooms: ['core'],
    packages: [
      '@cornerstonejs/codec-libjpeg-turbo-8bit',
      '@cornerstonejs/codec-openjpeg',
      '@cornerstonejs/codec-openjph',
      'dcmjs-codecs',
      'dicom-parser',
      'exifr',
      'libheif-js',
      'sharp',
    ],
    disk: false,
  },
  finders: { rooms: ['core'], packages: ['onnxruntime-node'], disk: false },
  stages: {
    rooms: ['core', 'trade', 'formats', 'finders'],
    packages: ['exifr', 'fontkit', 'pdf-lib', 'pdfjs-dist', 'sharp', 'yaml', 'zod'],
    disk: false,
  },
  workers: { rooms: ['core', 'formats', 'finders', 'stages'], packages: ['sharp'], disk: true },
  practice: { rooms: ['core'], packages: ['age-encryption', 'chokidar', 'yaml'], disk: true },
  app: {
    rooms: ['core', 'trade', 'formats', 'finders', 'stages', 'workers', 'practice'],
    packages: [],
    disk: true,
  },
  desk: { rooms: ['core', 'trade', 'app'], packages: [], disk: true },
  cli: { rooms: ['core', 'app', 'desk'], packages: ['commander', '@commander-js/extra-typings'], disk: true },
};

/** Node modules that only compute; every other one counts as disk or clock. */
const COMPUTING = ['node:zlib', 'node:buffer', 'node:crypto', 'node:util'];

export interface Violation {
  file: string;
  imports: string;
  kind: 'room' | 'package' | 'disk';
}

const IMPORT = /(?:\bfrom\s*|\bimport\s*\(\s*|\bimport\s+)(['"])([^'"]+)\1/g;

/** Every module a source text imports, exports from or loads lazily. */
export function importsOf(source: string): string[] {
  const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  return [...code.matchAll(IMPORT)].map((match) => match[2] as string);
}

/** @param file path relative to src/, e.g. "stages/strip/index.ts" */
export function violationsOf(file: string, imports: readonly string[]): Violation[] {
  const roomName = file.split('/')[0] as string;
  const room = ROOMS[roomName];
  if (!room) return [{ file, imports: roomName, kind: 'room' }];
  const found: Violation[] = [];
  for (const name of imports) {
    const kind = name.startsWith('.')
      ? crossing(file, name, roomName, room)
      : name.startsWith('node:')
        ? room.disk || COMPUTING.includes(name)
          ? null
          : 'disk'
        : room.packages.includes(packageOf(name))
          ? null
          : 'package';
    if (kind) found.push({ file, imports: name, kind });
  }
  return found;
}

function crossing(file: string, name: string, roomName: string, room: Room): 'room' | null {
  const target = normalize(join(dirname(file), name)).split('/');
  const own = file.split('/');
  if (target[0] === roomName) {
    // A stage takes values and gives values; the app joins them, so that each can be read alone.
    const sameStage = roomName !== 'stages' || target[1] === own[1];
    return sameStage ? null : 'room';
  }
  return room.rooms.includes(target[0] as string) ? null : 'room';
}

const packageOf = (name: string): string =>
  name.startsWith('@') ? name.split('/').slice(0, 2).join('/') : (name.split('/')[0] as string);

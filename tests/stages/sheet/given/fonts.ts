import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { FontBytes } from '../../../../src/stages/sheet/index.js';

const require = createRequire(import.meta.url);
const bytes = (file: string) =>
  new Uint8Array(readFileSync(require.resolve(`@expo-google-fonts/source-sans-3/${file}`)));

export const fonts: FontBytes = {
  regular: bytes('400Regular/SourceSans3_400Regular.ttf'),
  semibold: bytes('600SemiBold/SourceSans3_600SemiBold.ttf'),
};

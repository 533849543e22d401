import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

/** Font files as they came: TrueType, SIL Open Font License. */
export interface FontBytes {
  regular: Uint8Array;
  semibold: Uint8Array;
}

const FAMILY = '@expo-google-fonts/source-sans-3';

/** Source Sans 3, Regular and SemiBold. Throws when the package is not installed: that is no fault of any input. */
export async function loadFonts(): Promise<FontBytes> {
  const { resolve } = createRequire(import.meta.url);
  const [regular, semibold] = await Promise.all([
    readFile(resolve(`${FAMILY}/400Regular/SourceSans3_400Regular.ttf`)),
    readFile(resolve(`${FAMILY}/600SemiBold/SourceSans3_600SemiBold.ttf`)),
  ]);
  return { regular, semibold };
}

/** Openly licensed typefaces, from thin to bold, drawn as outlines so that no font of the machine takes part. */
import { createRequire } from 'node:module';
import { type Font, openSync } from 'fontkit';

const { resolve } = createRequire(import.meta.url);
const DEJAVU = ['Sans', 'Sans-Bold', 'SansMono', 'SansMono-Bold', 'Serif', 'SansCondensed', 'Sans-Oblique'];
const OTHERS = [
  'arimo/400Regular/Arimo_400Regular',
  'arimo/700Bold/Arimo_700Bold',
  'arimo/400Regular_Italic/Arimo_400Regular_Italic',
  'roboto/300Light/Roboto_300Light',
  'roboto/400Regular/Roboto_400Regular',
  'roboto/700Bold/Roboto_700Bold',
  'roboto-mono/400Regular/RobotoMono_400Regular',
  'pt-sans/400Regular/PTSans_400Regular',
  'pt-sans/700Bold/PTSans_700Bold',
  'open-sans/400Regular/OpenSans_400Regular',
  'open-sans/600SemiBold/OpenSans_600SemiBold',
  'fira-sans/400Regular/FiraSans_400Regular',
  'share-tech-mono/400Regular/ShareTechMono_400Regular',
  'vt323/400Regular/VT323_400Regular',
  'courier-prime/400Regular/CourierPrime_400Regular',
  'courier-prime/700Bold/CourierPrime_700Bold',
  'oswald/400Regular/Oswald_400Regular',
  'noto-serif/400Regular/NotoSerif_400Regular',
];
const FILES = [
  ...DEJAVU.map((name) => `dejavu-fonts-ttf/ttf/DejaVu${name}.ttf`),
  ...OTHERS.map((name) => `@expo-google-fonts/${name}.ttf`),
];

let opened: Font[] | null = null;

/** Typefaces that have every character of the text. */
export function typefacesFor(text: string): Font[] {
  opened ??= FILES.map((file) => openSync(resolve(file)) as Font);
  return opened.filter((font) => [...text].every((char) => font.hasGlyphForCodePoint(char.codePointAt(0)!)));
}

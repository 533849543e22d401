import { type Colour, linearOf } from './ground.js';

/**
 * Colours of things under the warm light of an operating microscope, sRGB centres chosen so that wall, floor, groove
 * and orifice step down in lightness (L* about 74, 60, 42, 22). From memory and by eye; no measured source.
 */
const c = (r: number, g: number, b: number): Colour => linearOf([r, g, b]);

export const COLOUR = {
  enamel: c(209, 194, 167),
  enamelDeep: c(226, 213, 188),
  clear: c(186, 178, 160),
  neck: c(200, 178, 143),
  stain: c(92, 62, 38),
  dentine: c(205, 178, 138),
  sclerotic: c(194, 160, 112),
  floor: c(160, 132, 100),
  floorOld: c(141, 117, 90),
  groove: c(76, 54, 37),
  repair: c(215, 199, 177),
  orifice: c(60, 46, 36),
  lumen: c(22, 15, 11),
  guttaPercha: c(214, 142, 124),
  guttaPerchaDull: c(178, 112, 97),
  sealer: c(222, 210, 184),
  caries: c(138, 98, 60),
  cariesDark: c(78, 54, 40),
  amalgam: c(112, 113, 116),
  amalgamDark: c(66, 65, 63),
  composite: c(214, 202, 178),
  temporary: c(230, 226, 217),
  paste: c(240, 238, 230),
  seal: c(233, 236, 238),
  damBlue: c(22, 88, 134),
  damGreen: c(44, 108, 84),
  clamp: c(168, 168, 168),
  ligature: c(214, 214, 206),
} as const;

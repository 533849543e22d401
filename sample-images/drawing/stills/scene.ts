import { type Picture, photograph } from './camera.js';
import { type BuildUp, type Cavity, cutAccess, layBuildUp, makeCavity } from './cavity.js';
import { COLOUR } from './colours.js';
import { type Crown, layCrown, makeCrown } from './crown.js';
import { layDam, layLigature } from './dam.js';
import { closeAccess, layGuttaPercha, layJoint, layOrificeSeal, layPaste } from './fillings.js';
import { type FloorState, layFloor } from './floor.js';
import { type Colour, type Ground, makeGround, type Pose } from './ground.js';
import { light } from './light.js';
import { layAmalgam, layCaries, layClamp } from './metal.js';
import type { Spot } from './outline.js';
import type { ToothShape } from './tooth-shapes.js';

/** Everything that stays the same in all stills of one tooth. */
export interface Patient {
  shape: ToothShape;
  seed: number;
  dam: Colour;
  ligature: boolean;
  amalgam: readonly Spot[];
  caries: readonly Spot[];
  cariesDepthMm: number;
  buildUp: BuildUp;
  stain: number;
}

export type Content =
  | { show: 'untouched' }
  | { show: 'chamber'; floor: FloorState }
  | { show: 'paste'; floor: FloorState }
  | { show: 'filled' | 'sealed'; floor: FloorState; filled: readonly string[]; joint: readonly Spot[] }
  | { show: 'temporary' | 'core' };

export interface Shot {
  content: Content;
  pose: Pose;
  /** Width of the field, mm: about 200 / magnification. */
  fieldMm: number;
  /** What lies in the middle, tooth frame, mm. */
  centre: readonly [number, number];
  focusZ: number;
  tilt: readonly [number, number];
  wetness: number;
  exposure: number;
  shakeMm: number;
  seed: number;
}

/** Beyond the frame, so that slanting lines of sight still meet something, mm. */
const MARGIN_MM = 1.2;

const fillTooth = (g: Ground, p: Patient, crown: Crown, cavity: Cavity, content: Content): void => {
  const { shape, seed } = p;
  switch (content.show) {
    case 'untouched':
      layAmalgam(g, crown, p.amalgam, seed + 20);
      layCaries(g, p.caries, p.cariesDepthMm, seed + 30);
      return;
    case 'temporary':
      layBuildUp(g, p.buildUp, seed + 45);
      closeAccess(
        g,
        crown,
        cavity,
        { colour: COLOUR.temporary, region: 'temporary', flatness: 0.9, wet: 0.38, marksMm: 0.025 },
        seed + 70,
      );
      return;
    case 'core':
      layBuildUp(g, p.buildUp, seed + 45);
      closeAccess(
        g,
        crown,
        cavity,
        { colour: COLOUR.composite, region: 'composite', flatness: 0.4, wet: 0.46, marksMm: 0.01 },
        seed + 80,
      );
      return;
    default:
      cutAccess(g, crown, cavity, shape, seed + 40);
      layBuildUp(g, p.buildUp, seed + 45);
      layFloor(g, cavity, shape, content.floor, seed + 50);
  }
  if (content.show === 'paste') layPaste(g, cavity, shape, seed + 60);
  if (content.show === 'filled' || content.show === 'sealed') {
    layGuttaPercha(g, shape, content.filled, content.floor.widenedMm, seed + 90);
    if (content.joint.length > 1) layJoint(g, content.joint, seed + 95);
    if (content.show === 'sealed') layOrificeSeal(g, cavity, shape, seed + 100);
  }
};

const forms = new WeakMap<Patient, { crown: Crown; cavity: Cavity }>();
/** The tooth's own forms, worked out once for all its stills. */
const formsOf = (p: Patient): { crown: Crown; cavity: Cavity } => {
  const known = forms.get(p) ?? {
    crown: makeCrown(p.shape, p.seed),
    cavity: makeCavity(p.shape, p.seed + 10),
  };
  forms.set(p, known);
  return known;
};

/** One still, drawn at the given size. Same arguments, same bytes. */
export const drawStill = (p: Patient, shot: Shot, widthPx: number, heightPx: number): Picture => {
  const pxPerMm = widthPx / shot.fieldMm;
  const margin = Math.round(MARGIN_MM * pxPerMm);
  const g = makeGround(widthPx + 2 * margin, heightPx + 2 * margin, pxPerMm, shot.pose, shot.centre);
  const { crown, cavity } = formsOf(p);
  layDam(g, crown, p.dam, p.seed + 200);
  if (p.ligature) layLigature(g, crown, p.seed + 210);
  layCrown(g, crown, p.seed, p.stain);
  fillTooth(g, p, crown, cavity, shot.content);
  layClamp(g, p.shape, p.seed + 220);
  const lit = light(g, {
    seed: shot.seed,
    wetness: shot.wetness,
    lamps: [
      [0.055, 0.05],
      [-0.06, 0.02],
    ],
  });
  return photograph(g, lit, {
    widthPx,
    heightPx,
    tilt: shot.tilt,
    focusZ: shot.focusZ,
    blurPerMm: 0.45 / shot.fieldMm,
    exposure: shot.exposure,
    shakeMm: shot.shakeMm,
    seed: shot.seed,
  });
};

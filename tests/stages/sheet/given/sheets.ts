import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { settingsSchema } from '../../../../src/core/settings.js';
import {
  drawSheet,
  figuresOf,
  planSheet,
  readTemplate,
  type SheetPicture,
  type SheetPlan,
  type Template,
} from '../../../../src/stages/sheet/index.js';
import type { CaseRecord } from '../../../../src/trade/case-record.js';
import { fonts } from './fonts.js';

export const templateText = readFileSync(
  new URL('../../../../templates/referrer.yaml', import.meta.url),
  'utf8',
);

export function referrer(): Template {
  const read = readTemplate(templateText);
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  return read.template;
}

export const plan = (record: CaseRecord, settings: object = {}) =>
  planSheet({
    template: referrer(),
    record,
    shareCode: '9VTC4H',
    settings: settingsSchema.parse(settings),
    fonts,
  });

export async function planned(record: CaseRecord, settings: object = {}): Promise<SheetPlan> {
  const result = await plan(record, settings);
  if (!result.ok) throw new Error(result.problems.join('\n'));
  return result.plan;
}

const flat = async (grey: boolean): Promise<SheetPicture> => {
  const colour = sharp({ create: { width: 64, height: 48, channels: 3, background: '#8a6a4a' } });
  const jpeg = await (grey ? colour.toColourspace('b-w') : colour).jpeg().toBuffer();
  return { jpeg: new Uint8Array(jpeg), widthPx: 64, heightPx: 48 };
};
const FLAT = { grey: flat(true), colour: flat(false) };

/** A small flat picture, in the right number of channels, for each that the sheet asks for. */
export async function fakePictures(plan: SheetPlan): Promise<Map<number, SheetPicture>> {
  const pictures = new Map<number, SheetPicture>();
  for (const { number, grey } of figuresOf(plan))
    pictures.set(number, await (grey ? FLAT.grey : FLAT.colour));
  return pictures;
}

export async function drawn(record: CaseRecord, settings: object = {}): Promise<Uint8Array> {
  const sheet = await planned(record, settings);
  return drawSheet(sheet, await fakePictures(sheet));
}

import type { MetadataBlock } from '../../formats/index.js';
import type { StringCollector } from './collect-strings.js';
import type { ExifFields } from './read-exif.js';
import { IPTC_NAMES } from './read-iptc.js';
import { readPrintable, readUserComment, readXpField } from './read-text.js';
import type { XmpValue } from './read-xmp.js';

/** EXIF text that says nothing about anyone: kinds of device and codes. */
const SILENT_EXIF =
  /^(Make|Model|Software|.*Version.*|.*Ref|Offset.*|SubSec.*|Components.*|InteropIndex|LensMake|LensModel|FileSource|SceneType|CFAPattern|GPSProcessingMethod|GPSMapDatum|GPSMeasureMode|GPSStatus)$/;
const FREE_EXIF =
  /^(ImageDescription|DocumentName|PageName|ImageHistory|UserComment|XP(Title|Comment|Keywords|Subject))$/;

export function collectExif(
  { sections, makerNote, userComment }: ExifFields,
  strings: StringCollector,
): void {
  for (const [section, fields] of Object.entries(sections))
    for (const [name, value] of Object.entries(fields)) {
      const text = name.startsWith('XP') && value instanceof Uint8Array ? readXpField(value) : value;
      if (typeof text !== 'string' || SILENT_EXIF.test(name)) continue;
      strings.add(
        FREE_EXIF.test(name) ? 'free-text' : 'other',
        `EXIF ${section === 'gps' ? 'GPS' : name}`,
        text,
      );
    }
  const { latitude, longitude } = sections['gps'] ?? {};
  if (typeof latitude === 'number' && typeof longitude === 'number')
    strings.add('other', 'EXIF GPS', `${latitude}, ${longitude}`);
  if (userComment) strings.add('free-text', 'EXIF UserComment', readUserComment(userComment));
  if (makerNote) for (const run of readPrintable(makerNote)) strings.add('other', 'EXIF MakerNote', run);
}

const PERSON = /^(Patients?Name|PersonInImage|PersonDisplayName|PersonName)$/i;
const PERSON_ID = /^(PatientID|OtherPatientIDs?|AccessionNumber)$/i;
const BIRTH = /^(PatientDOB|Patients?BirthDate|BirthDate)$/i;
const FREE_XMP =
  /^(title|description|subject|Headline|Instructions|UserComment|ImageDescription|Event|Label|Caption.*|Keywords|hierarchicalSubject|StudyDescription|SeriesDescription|PatientComments)$/i;
/** Codes and software, the same in thousands of files. */
const SILENT_XMP =
  /^(format|ColorMode|ICCProfile|ColorSpace|CreatorTool|softwareAgent|action|changed|Make|Model|Software|.*Version.*|parameters|Orientation|.*Resolution|ResolutionUnit|LegacyIPTCDigest|instrument|Lens)$/i;

export function collectXmp(values: XmpValue[], strings: StringCollector): void {
  // A face region's Name is a person; elsewhere Name may be anything.
  const regions = values.some(
    ({ name }) => /^(Regions?|RegionList)$/i.test(name) || name === 'AppliedToDimensions',
  );
  for (const { name, value } of values) {
    const field = `XMP ${name}`;
    if (PERSON.test(name) || (regions && name === 'Name')) strings.add('person-name', field, value);
    else if (PERSON_ID.test(name)) strings.add('person-id', field, value);
    else if (BIRTH.test(name)) strings.add('birth-date', field, value);
    else if (FREE_XMP.test(name)) strings.add('free-text', field, value);
    else if (
      !SILENT_XMP.test(name) &&
      value.length >= 4 &&
      /\p{L}{2}|\d{6}/u.test(value) &&
      !/^(true|false)$/i.test(value)
    )
      strings.add('other', field, value);
  }
}

const FREE_IPTC = new Set([5, 25, 40, 105, 120]);

export function collectIptc(values: { number: number; value: string }[], strings: StringCollector): void {
  for (const { number, value } of values)
    if (number !== 0)
      strings.add(
        FREE_IPTC.has(number) ? 'free-text' : 'other',
        `IPTC ${IPTC_NAMES[number] ?? number}`,
        value,
      );
}

/** Keywords of ISO/IEC 15948, 11.3.4.2; any other keyword was typed by someone and is itself a text. */
const PNG_KEYWORDS =
  /^(Title|Author|Description|Copyright|Creation Time|Software|Disclaimer|Warning|Source|Comment|Raw profile type \w+)$/;

export function collectText(block: MetadataBlock, text: string, strings: StringCollector): void {
  const keyword = /^PNG text (.*)$/s.exec(block.field)?.[1];
  if (keyword === undefined) strings.add('free-text', block.field, text);
  else if (PNG_KEYWORDS.test(keyword)) strings.add('free-text', block.field, text);
  else {
    strings.add('free-text', 'PNG text', text, keyword);
    strings.add('free-text', 'PNG keyword', keyword);
  }
}

import { strToU8, zipSync } from 'fflate';

/** A ZIP by another program's library. */
export const zip = (members: Record<string, Uint8Array | string>): Buffer =>
  Buffer.from(
    zipSync(
      Object.fromEntries(
        Object.entries(members).map(([name, data]) => [
          name,
          typeof data === 'string' ? strToU8(data) : data,
        ]),
      ),
    ),
  );

const TYPES =
  '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>';

/** A document of an office program: two runs of one word, as editors leave them. */
export const docx = (first: string, second: string): Buffer =>
  zip({
    '[Content_Types].xml': TYPES,
    'word/document.xml': `<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body><w:p><w:r><w:t>Seen ${first}</w:t></w:r><w:r><w:rPr><w:b/></w:rPr><w:t>${second} again</w:t></w:r></w:p></w:body></w:document>`,
  });

/** Slides with speaker's notes and core properties. */
export const pptx = (notes: string, core: string): Buffer =>
  zip({
    '[Content_Types].xml': TYPES,
    'docProps/core.xml': `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/">${core}</cp:coreProperties>`,
    'ppt/slides/slide1.xml':
      '<p:sld xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><a:p><a:r><a:t>A talk</a:t></a:r></a:p></p:sld>',
    'ppt/notesSlides/notesSlide1.xml': `<p:notes xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><a:p><a:r><a:t>${notes}</a:t></a:r></a:p></p:notes>`,
  });

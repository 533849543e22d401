import { deflateSync } from 'node:zlib';
import { type Coding, coded, type Plant } from './plant.js';

const SIMPLE_XMP =
  'photoshop:City photoshop:State photoshop:Country photoshop:Credit photoshop:Headline photoshop:AuthorsPosition photoshop:Instructions photoshop:Source photoshop:TransmissionReference photoshop:CaptionWriter photoshop:DateCreated xmp:CreatorTool xmp:CreateDate xmp:Label xmp:Nickname xmpMM:DocumentID xmpMM:InstanceID xmpMM:OriginalDocumentID aux:OwnerName aux:SerialNumber aux:LensSerialNumber exif:GPSLatitude exif:UserComment tiff:Artist tiff:Make tiff:Model Iptc4xmpCore:Location Iptc4xmpCore:CountryCode xmpRights:WebStatement plus:LicensorName'.split(
    ' ',
  );
const CONTACT = 'CiAdrExtadr CiAdrCity CiAdrPcode CiTelWork CiEmailWork CiUrlWork'.split(' ');
const SPACES =
  'dc photoshop xmp xmpMM stEvt stRef aux exif tiff Iptc4xmpCore Iptc4xmpExt xmpRights plus mwg-rs xmpGImg DICOM'
    .split(' ')
    .map((name) => `xmlns:${name}="urn:drawn:${name}"`)
    .join(' ');

/** XMP with attributes, nested structures, history, derived-from, face regions, a preview in base64, and what is no field. */
export function xmpPacket(plant: Plant, coding: Coding = 'utf8'): Buffer {
  const w = (name: string): string => plant.word(`XMP ${name}, ${coding}`);
  const attributes = SIMPLE_XMP.map((name) => `${name}="${w(name)}"`).join('\n ');
  const contact = CONTACT.map((name) => `Iptc4xmpCore:${name}="${w(name)}"`).join(' ');
  const alt = (name: string) =>
    `<${name}><rdf:Alt><rdf:li xml:lang="x-default">${w(name)}</rdf:li><rdf:li xml:lang="en">${w(`${name} in English`)}</rdf:li></rdf:Alt></${name}>`;
  const bag = (name: string) => `<${name}><rdf:Bag><rdf:li>${w(name)}</rdf:li></rdf:Bag></${name}>`;
  const event = (n: number) =>
    `<rdf:li stEvt:action="saved" stEvt:instanceID="${w(`history ${n} instance`)}" stEvt:softwareAgent="${w(`history ${n} agent`)}" stEvt:parameters="${w(`history ${n} parameters`)}" stEvt:when="${w(`history ${n} when`)}"/>`;
  const preview = deflateSync(w('preview, deflated and in base64')).toString('base64');
  const text = `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><!-- ${w('comment')} --><x:xmpmeta xmlns:x="adobe:ns:meta/" x:xmptk="${w('toolkit')}"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="${w('about')}" ${SPACES} ${attributes}>
${alt('dc:title')}${alt('dc:description')}${alt('dc:rights')}${bag('dc:creator')}${bag('dc:subject')}${bag('Iptc4xmpExt:PersonInImage')}
<Iptc4xmpCore:CreatorContactInfo rdf:parseType="Resource"><x ${contact}/></Iptc4xmpCore:CreatorContactInfo>
<xmpMM:History><rdf:Seq>${event(1)}${event(2)}</rdf:Seq></xmpMM:History>
<xmpMM:DerivedFrom stRef:documentID="${w('derived from')}"><stRef:filePath>${w('derived from path')}</stRef:filePath></xmpMM:DerivedFrom>
<mwg-rs:Regions rdf:parseType="Resource"><mwg-rs:RegionList><rdf:Bag><rdf:li><rdf:Description mwg-rs:Name="${w('region name')}" mwg-rs:Type="Face"/></rdf:li></rdf:Bag></mwg-rs:RegionList></mwg-rs:Regions>
<DICOM:PatientName>${w('PatientName')}</DICOM:PatientName><DICOM:PatientID>${w('PatientID')}</DICOM:PatientID>
<xmp:Thumbnails><rdf:Alt><rdf:li rdf:parseType="Resource"><xmpGImg:image>${preview}</xmpGImg:image></rdf:li></rdf:Alt></xmp:Thumbnails>
<photoshop:History><![CDATA[${w('CDATA')}]]></photoshop:History>
</rdf:Description></rdf:RDF></x:xmpmeta><?drawn ${w('processing instruction')}?>      <?xpacket end="w"?>${w('after the packet')}`;
  return coded(text, coding);
}

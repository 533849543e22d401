import type { IdentifyingString } from '../../../core/picture-facts.js';

type Kind = IdentifyingString['kind'];

/** Names of who the picture is of, and of nobody else: compared with the sidecar's patient. */
const PATIENT: [tag: number, kind: Kind, name: string][] = [
  [0x00100010, 'person-name', 'PatientName'],
  [0x00100020, 'person-id', 'PatientID'],
  [0x00100030, 'birth-date', 'PatientBirthDate'],
];

/** PS3.6, table 6-1: who made it and where, and who is near to the patient: searched for, never compared. */
const OTHERS: [tag: number, name: string][] = [
  [0x00080050, 'AccessionNumber'],
  [0x00080080, 'InstitutionName'],
  [0x00080081, 'InstitutionAddress'],
  [0x00080090, 'ReferringPhysicianName'],
  [0x00080092, 'ReferringPhysicianAddress'],
  [0x00080094, 'ReferringPhysicianTelephoneNumbers'],
  [0x0008009c, 'ConsultingPhysicianName'],
  [0x00081010, 'Institution StationName'],
  [0x00081040, 'InstitutionalDepartmentName'],
  [0x00081048, 'PhysiciansOfRecord'],
  [0x00081050, 'PerformingPhysicianName'],
  [0x00081060, 'NameOfPhysiciansReadingStudy'],
  [0x00081070, 'OperatorsName'],
  [0x00100021, 'IssuerOfPatientID'],
  [0x00101000, 'OtherPatientIDs'],
  [0x00101001, 'OtherPatientNames'],
  [0x00101005, 'PatientBirthName'],
  [0x00101040, 'PatientAddress'],
  [0x00101060, 'PatientMotherBirthName'],
  [0x00102154, 'PatientTelephoneNumbers'],
  [0x00102297, 'ResponsiblePerson'],
  [0x00102299, 'ResponsibleOrganization'],
  [0x00181000, 'DeviceSerialNumber'],
  [0x00181020, 'SoftwareVersions'],
  [0x00321032, 'RequestingPhysician'],
  [0x00400006, 'ScheduledPerformingPhysicianName'],
  [0x00400244, 'PerformedProcedureStepStartDate'],
  [0x00401008, 'NameOfPhysicianToReport'],
  [0x00700084, 'ContentCreatorName'],
  [0x0040a075, 'VerifyingObserverPhysicianName'],
];

export interface FieldName {
  kind: Kind;
  name: string;
}

export const FIELD_NAMES: ReadonlyMap<number, FieldName> = new Map([
  ...PATIENT.map(([tag, kind, name]): [number, FieldName] => [tag, { kind, name: `DICOM ${name}` }]),
  ...OTHERS.map(([tag, name]): [number, FieldName] => [tag, { kind: 'other', name: `DICOM ${name}` }]),
]);

/** Numbers of elements only: a private creator's name can be a vendor's and a person's. */
export const fieldNumber = (tag: number): string => {
  const digits = tag.toString(16).padStart(8, '0');
  return `DICOM (${digits.slice(0, 4)},${digits.slice(4)})`;
};

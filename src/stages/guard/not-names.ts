/**
 * Words that stand in pictures and name no patient: the trade's, places of work, makers' and programs' words. A bare
 * form with one of them says nothing. Folded; from memory.
 */
const WORDS = `
periapical bitewing occlusal panoramic radiograph radiography film xray ray image images picture photo view views
tooth teeth upper lower left right mesial distal buccal lingual palatal labial apical coronal sagittal axial frontal
anterior posterior maxilla maxillary mandible mandibular molar premolar incisor canine bicuspid central lateral wisdom
root roots canal canals apex crown pulp chamber orifice orifices endo endodontic endodontics endodontist filling file
files cone gutta percha obturation access working length recall temporary final initial before during after pre post op
preop postop intraop shaping irrigation medicament control follow up followup diagnosis diagnostic treatment retreatment
dental dentist dentists dentistry dentistes orthodontics oral surgery surgeon surgical clinic clinical klinik clinica
clinique kliniek praxis practice office cabinet centre center zentrum centro hospital krankenhaus university universitat
institute department dept group partners associates team zahnarzt zahnarzte zahnmedizin zahnarztpraxis odontologia
studio smile smiles care health healthcare medical medicine doctor doctors
street road avenue lane drive square suite floor room str strasse platz weg rue via calle north south east west city
germany deutschland france italia italy spain espana portugal austria switzerland schweiz england scotland wales ireland
kingdom states canada australia netherlands belgium denmark norway sweden finland poland greece turkey japan china india
brazil mexico usa
camera microscope sensor detector exposure time date day page number series study scan slice scale zoom magnification
mode auto manual high low speed standard normal resolution contrast brightness sharp filter dose voltage current
raw jpg jpeg png tif tiff bmp dcm webp pdf img dsc dscn dscf pict mov untitled inc ltd llc gmbh corp corporation company co ag kg systems system imaging technologies technology software version
viewer digital serial model device copyright rights reserved all com net org www http https error warning battery full
empty memory card saved save new open close ok cancel print export import
male female mannlich weiblich homme femme hombre mujer sex age years
january february march april june july august september october november december monday tuesday wednesday thursday
friday saturday sunday januar februar marz juni juli oktober dezember
the and for with not only no yes none of this that from
`;

export const NOT_NAMES: ReadonlySet<string> = new Set(WORDS.split(/\s+/).filter((word) => word !== ''));

/** Before a name they make a patient of it; a doctor's or professor's title does not. */
export const ADDRESS = /^(?:mr|mrs|ms|miss|herr|frau|mme|mlle|monsieur|madame|sra|srta|dhr|mevr)[. ]\s*/;

/** Whoever bears one of these is no patient. */
export const DENTIST =
  /(?:^|[\s^,.(])(?:dr|drs|prof|doctor|professor|doc|doktor|docteur|dott|dottor|dottssa|dds|dmd|bds|ddr|zahnarzt|zahnarztin|dentist|endodontist|tandarts|dentista)(?:[\s.^,)]|$)/i;

export const SEX_OR_AGE =
  /^(?:m|f|w|d|male|female|mannlich|weiblich|homme|femme|hombre|mujer|sex|age|years|yrs|yr|y|j|jahre)$/;

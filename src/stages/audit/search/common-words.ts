import { fold } from '../../../core/fold.js';
import { STAGE_WORDS } from '../../../trade/stages.js';
import { VIEWS } from '../../../trade/views.js';

/**
 * Words that stand on any sheet, in any file of a format, or in the names assistants give to files. A term among them
 * counts only beside another term of the same patient: Rose White has a white crown like everybody.
 */
const OF_THE_TRADE =
  'abscess access acute adhesive adjacent amalgam anaesthesia angle anterior apex apical apexification arch area asymptomatic barrier base before after during bevel bitewing bleeding blue black bone bonded bridge brown buccal bud bur calcified calcium canal canals cap capping caries case cast cavity cement ceramic cervical chamber chronic class clamp clean clear clinical closed composite cone condensing cord core coronal course cover covered coverage crack cracked crown curve curved cusp cuspal cut cyst dam day days debris decay deciduous deep dens dental dentin dentist dentine diagnosis diagnostic direct distal distobuccal distolingual drain dressing dry drying edge elastic enamel end endo endodontic entry exam exposure external extra fibre field file filed files filled filling final fine finding finished first fistula fit flap floor flush follow foreign fracture front full furcation fused glass gold gray green grey groove gum gutta hand hard healed healing heavy hole hydroxide image images implant impression incisal incisor infection inlay inside instrument interim internal ion ionomer irrigation isolation isthmus joint large last lateral layer ledge left length lesion light line lingual lip long loose lost low lower main margin margins mark marked master material maxillary may mesial mesiobuccal mesiolingual metal micro microscope middle mild mirror mishap missing molar molars month months mouth narrow necrosis necrotic neck needle nerve new next nickel none normal note notes old onlay open operative orifice orifices outer oval overview paper part patch patency patient percha perforation periapical periodontal periodontitis permanent pin pink plug point points porcelain post posterior power pre premolar preparation present previous primary probe provisional pulp pulpitis quarter radiograph radiographs radix recall red reference referral referring removed repair resin resection restored restorer restoration retreatment review ridge right ring rod root roots rose rotary rubber sand seal sealed sealer second section separated shaping sharp short side silver single sinus size slice small smooth soft sound space splint split stage stain state step stone straight strip surgery suture swelling symptomatic taper temporary test tests third tip tissue tooth top tract treated treatment tube two under upper urgent vertical view visit visits vital wall wash water wear wedge week weeks white wide wire with without wood work working wound year years yellow young zinc';

const OF_SHEETS =
  'about advise answer assistant begin beginning between both carefully change colour confidential contrast copy crop data date days description document documents does done draw drawn each ease electronic email encrypted evidence example figure follow for from further good grace guaranteed hand heading here hope how identify identifiers image information joy judgement just keep key kind known label law letter listed local look made make many march mark max mean means medical miles more moss must name names not now number numbers object only original other our page pages part people person photo picture pictures place plain please practice price print printed private proof pure read record records regulator reserved review room rules safe sale same scale scope scopeleaf send sent series service set share sharing sheet show shown shows sign smith source stand standard start still stills street summer sun table take taken terms text that the their them there these they this through time title today type use used user view well what when where which who will winter without word words work wright wrong your';

/** Keywords of the formats that are read as bytes and as text: PDF, JPEG, PNG, XML, DICOM, colour profiles. */
const OF_FORMATS =
  'adobe annot array ascii attribute bold border box byte bytes catalog charset child class code color colorspace comment compression content contents core count created creator crop decode default desc device dict display encoding endobj endstream entry event exif false field filter flate font form format frame free function gray height hex icc identity index indexed info item jfif kids lang language length level linear list local marked mask media meta model modified modify month name namespace nums ocr order orientation output owner parent parents photoshop pixel point prev producer profile reader red resource resources role root row sans schema section semibold software source span srgb standard stream string structure subject subtype success system table tag tags target time times title trailer true type unicode url value version vertical view width word xmp xobject xref';

const setOf = (words: readonly string[]): ReadonlySet<string> => new Set(words.map(fold));

const TRADE = setOf([
  ...OF_THE_TRADE.split(' '),
  ...[...STAGE_WORDS, ...VIEWS].flatMap((word) => word.split('-')),
]);
const COMMON = setOf([...TRADE, ...`${OF_SHEETS} ${OF_FORMATS}`.split(' ')]);

const isIn = (word: string, words: ReadonlySet<string>): boolean =>
  words.has(word) || (word.endsWith('s') && words.has(word.slice(0, -1)));

/** @param word folded */
export const isCommonWord = (word: string): boolean => isIn(word, COMMON);

/** @param word folded */
export const isTradeWord = (word: string): boolean => isIn(word, TRADE);

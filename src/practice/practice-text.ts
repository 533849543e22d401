/** The practice.yaml that init writes. It parses to exactly the defaults of the settings schema (tested). */
export const PRACTICE_TEXT = `# Settings of this practice. Every line may be left out; the value shown is what then holds.
# After a change, run any command: a mistake is named with its line.

# Lets the sidecar say a bare tooth number, as in "tooth: 46": fdi, universal or palmer.
# null: the sidecar must name the system.
notation: null

# Paper of the sheets: A4 or Letter.
paper: A4

# Language of the sheets.
language: en

# Seconds a visit folder must lie still before "watch" takes it in.
quiet: 15

# Lines printed at the head of every sheet, for example [Example Endodontics, 12 Sample Street].
letterhead: []

# What may be measured on radiographs: off, figures, or figures-and-rule.
measuring: figures

# Named rule for the end of a root filling: 0-2mm or 0.5-2mm from the radiographic apex.
fillingEnd: 0-2mm

# Another place for the folder "private", for example an encrypted disk: /media/safe/private.
# Move the folder there first. null: it lies here, beside this file.
private: null

# Where the key file lies when the private records are encrypted with one, for example on a stick:
# /media/key/practice.key. null: it is named with --key-file or SCOPELEAF_KEY_FILE, or there is none.
keyFile: null

# Cameras that need help, by maker and model or sub-folder. "corrected": it flips mirror views by itself.
# "offset": seconds to add to its capture times. For example:
# sources:
#   - {source: Example Scope 5, corrected: true, offset: 3600}
sources: []

# Make DICOM copies of radiographs.
dicomCopies: false

# Boxes covered on every picture of a source, in pixels: x, y, width, height. For example:
# coverAlways:
#   - {source: Example Sensor 2, box: [0, 0, 400, 60]}
coverAlways: []

# Smallest text on anything that leaves, in points: 9 to 14.
minimumText: 9

# What a referrer's sheet rests on: consent, or treatment where local law allows it.
referralBasis: consent
`;

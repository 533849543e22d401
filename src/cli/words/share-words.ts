import type { SheetLook } from '../../app/review/looks.js';
import type { ShareReport } from '../../app/share/share-report.js';
import type { Recipient, Withdrawal } from '../../app/share/withdrawal.js';
import { printLine, printText } from '../print.js';

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** What to look at, before it is written down that somebody has looked. */
export function printLooks(sheet: string, looks: readonly SheetLook[]): void {
  if (looks.length === 0) {
    printLine(`${sheet}: no place in its pictures is marked for a look.`);
    return;
  }
  printLine(`${sheet}: ${counted(looks.length, 'place', 'places')} to look at.`);
  for (const { figure, picture, sentence } of looks) {
    const where = figure === null ? `Picture ${picture}` : `Figure ${figure}`;
    printLine(`${where}: ${sentence}`, '  ');
  }
}

/** A sheet that has left, or everything that stands against it. */
export function printShare(report: ShareReport): void {
  if (report.shared) printShared(report);
  else printRefused(report);
  for (const { file, where } of report.possible)
    printLine(`Perhaps text in a picture: ${file} (${where}). Look at it once more.`);
  if (report.withdrawn) printWithdrawal(report.withdrawn);
}

function printRefused({ case: code, template, reasons }: ShareReport): void {
  const count = counted(reasons.length, 'reason', 'reasons');
  printLine(`Not shared: ${count} against the sheet "${template}" of case ${code}.`);
  for (const [at, { sentence }] of reasons.entries()) printLine(`${at + 1}. ${sentence}`, '  ');
}

function printShared(report: ShareReport): void {
  const { case: code, template, outbox, to, version, replaces, basis, by, files } = report;
  const replaced = replaces === null ? '' : `, replaces version ${replaces}`;
  printLine(`Shared: sheet "${template}" of case ${code}, version ${version}${replaced}.`);
  printLine(`To: ${to}. Basis: ${basis}. Reviewed by ${by}.`, '  ');
  for (const { name } of files) printLine(`${outbox}/${name}`, '  ');
  for (const older of report.haveOlder)
    printLine(`${older.to} has version ${older.version} (${older.on}): send this one there as well.`, '  ');
  printLine('Scopeleaf sends nothing itself. By e-mail, send it encrypted only.', '  ');
  if (report.coverSlip !== null) printSlip(report.coverSlip);
}

/** The slip names the patient; with the sheet it would undo the whole. */
function printSlip(slip: string): void {
  printLine(`Whose sheet it is stands on ${slip}: send that by another way.`, '  ');
  if (slip.endsWith('.age')) printLine('It is encrypted; to read it: scopeleaf patients open FILE DIR', '  ');
}

/** Who is to be asked to delete what, and in which words. */
export function printWithdrawal({ shared, texts }: Withdrawal): void {
  if (shared.length === 0) return;
  printLine('To be asked to delete it:');
  for (const one of shared) printLine(recipientLine(one), '  ');
  for (const { text } of texts) {
    printLine();
    printText(text);
  }
}

const recipientLine = ({ to, on, shareCode, template, version }: Recipient): string =>
  `${to}: ${on}, sheet "${template}" version ${version}, code ${shareCode}`;

/**
 * The disk. In come folders and bytes; out go bytes that stood still, and files that are whole or not there.
 * Nothing here knows what a picture shows. It refuses what is not a plain file, a name that is not UTF-8, a file
 * that changes while it is read, and settings or private records it cannot read in full: those are never taken for
 * empty and never written over.
 */
export { type Change, changeJournal, changeRegister, changeReviews } from './change-ledger.js';
export * from './code-book.js';
export { CONSTANT_TIME, settleTime, settleTimes } from './constant-time.js';
export { eraseFiles, type PatientFiles } from './erase-files.js';
export { type IsErased, loadErased, markErased } from './erased-marks.js';
export { type FoundPractice, findPractice, type WhereToLook } from './find-practice.js';
export { PRIVATE_FILE_MODE, PRIVATE_FOLDER_MODE } from './folders.js';
export { loadFound, saveFound } from './found-store.js';
export { hasSettled, type Look } from './has-settled.js';
export * from './held-store.js';
export { type Decision, InboxJudge, type JudgeOptions } from './inbox-judge.js';
export { type InboxStatus, statusSentence, type WaitsFor } from './inbox-status.js';
export { type InitResult, initPractice } from './init-practice.js';
export { appendJournal, Journal, readJournal, readWholeJournal } from './journal.js';
export type { JournalEntry } from './journal-lines.js';
export { JUNK, junkKind } from './junk-names.js';
export { type OpenedPractice, openPractice } from './open-practice.js';
export { readPaper, writePaper } from './paper.js';
export * from './patient-book.js';
export { clearTmp, placeFile, removeFile, writeOpenly } from './place-file.js';
export type { Practice, PracticePaths } from './practice-paths.js';
export { type Print, samePrint } from './print.js';
export type { KeyWish, MadeKey } from './protection/make-key.js';
export { readPrivate, unsealBytes, writePrivate } from './protection/private-file.js';
export { beginProtection, finishProtection, type Protecting, unprotect } from './protection/protect.js';
export {
  isLocked,
  isProtectedAsOpened,
  keepsPicturesSealed,
  type Protection,
} from './protection/protection.js';
export { type OpenedPicture, openPicture, readPicture, SEALED_SUFFIX } from './protection/stored-picture.js';
export {
  keepKey,
  type Unlocked,
  type UnlockTrouble,
  unlockWithKeyFile,
  unlockWithPassphrase,
} from './protection/unlock.js';
export type { SettingsError } from './read-settings.js';
export { READ_LIMIT_BYTES, ReadingBuffer, readSteadily, type SteadyBytes } from './read-steadily.js';
export { isObject, readRecord, writeRecord } from './record-file.js';
export * from './register.js';
export * from './reviews.js';
export { type InboxFolder, type InboxScan, scanInbox } from './scan-inbox.js';
export { type FolderScan, type ScannedFile, scanVisitFolder } from './scan-visit-folder.js';
export { readSecret } from './secret.js';
export { originalPath, placePrivately, storeOriginal, storeStripped } from './store-original.js';
export { twoLooks } from './two-looks.js';
export * from './visit-store.js';
export { type SteadyClock, steadyClock, type WatchOptions, watchInbox } from './watch-inbox.js';
export { type LockOptions, withLock } from './with-lock.js';
export { type WriteOptions, writeAtomically } from './write-atomically.js';

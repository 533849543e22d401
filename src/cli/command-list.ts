import type { Command } from '@commander-js/extra-typings';
import type { SetExit } from './set-exit.js';

type Register = (program: Command, setExit: SetExit) => void;

interface ListedCommand {
  name: string;
  /** Arguments as the list of commands shows them. */
  takes: string;
  does: string;
  /** Loads the command itself: its options, help and action. */
  load: () => Promise<Register>;
}

/** Every command, in the order of a day's work. Only the one that is called is loaded, so that --help answers at once. */
export const COMMANDS: readonly ListedCommand[] = [
  {
    name: 'init',
    takes: '<dir>',
    does: 'make a practice folder with its settings, inbox and private store',
    load: async () => (await import('./commands/init.js')).registerInit,
  },
  {
    name: 'check',
    takes: '<visit...>',
    does: 'say what is missing or wrong in visit folders; writes nothing',
    load: async () => (await import('./commands/check.js')).registerCheck,
  },
  {
    name: 'draft',
    takes: '<visit>',
    does: 'make a numbered contact sheet and a prefilled visit.yaml for a folder',
    load: async () => (await import('./commands/draft.js')).registerDraft,
  },
  {
    name: 'intake',
    takes: '<visit...>',
    does: 'take visit folders in: store, strip, label, and draw the sheet',
    load: async () => (await import('./commands/intake.js')).registerIntake,
  },
  {
    name: 'watch',
    takes: '',
    does: 'watch the inbox and take each visit in once it is complete and still',
    load: async () => (await import('./commands/watch.js')).registerWatch,
  },
  {
    name: 'held',
    takes: '',
    does: 'list everything that waits for a person, with its reason and next step',
    load: async () => (await import('./commands/held.js')).registerHeld,
  },
  {
    name: 'sheet',
    takes: '<code>',
    does: 'draw a sheet of a case again from what is kept',
    load: async () => (await import('./commands/sheet.js')).registerSheet,
  },
  {
    name: 'audit',
    takes: '<path...>',
    does: 'read finished files again and search them for anything that identifies',
    load: async () => (await import('./commands/audit.js')).registerAudit,
  },
  {
    name: 'review',
    takes: '<code>',
    does: 'write down that a person has looked at a sheet, exactly as it is',
    load: async () => (await import('./commands/review.js')).registerReview,
  },
  {
    name: 'share',
    takes: '[code]',
    does: 'audit and release a reviewed sheet to the outbox, or say what stands against it',
    load: async () => (await import('./commands/share.js')).registerShare,
  },
  {
    name: 'patients',
    takes: '[command]',
    does: 'list, export and erase patients; encrypt the private records',
    load: async () => (await import('./commands/patients.js')).registerPatients,
  },
  {
    name: 'schema',
    takes: '',
    does: 'print the JSON Schema of visit.yaml, for an editor that completes and checks',
    load: async () => (await import('./commands/schema.js')).registerSchema,
  },
  {
    name: 'demo',
    takes: '[dir]',
    does: 'run the main job on the drawn sample visits and say where the sheets are',
    load: async () => (await import('./commands/demo.js')).registerDemo,
  },
];

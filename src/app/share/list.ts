import { isLocked, type Practice, readRegister, type ShareRecord, sharesIn } from '../../practice/index.js';
import { orTrouble } from '../trouble.js';

/** A line of `share --list`. */
export interface ListedShare extends Omit<ShareRecord, 'id'> {
  /** `interrupted`: a kill came before all files lay in the outbox; the next `share` settles it. */
  status: 'shared' | 'interrupted';
  /** A later version of the sheet has been shared since. */
  outdated: boolean;
}

/** All that was shared, oldest first, by the register alone; null while it is locked. Writes nothing. */
export async function listShares(practice: Practice): Promise<ListedShare[] | null> {
  if (isLocked(practice)) return null;
  const { shared, unfinished } = sharesIn(orTrouble(await readRegister(practice)));
  const last = new Map(shared.map((one) => [`${one.case} ${one.template}`, one.version]));
  const listed = ({ id: _, ...record }: ShareRecord, status: ListedShare['status']): ListedShare => ({
    ...record,
    status,
    outdated: record.version < (last.get(`${record.case} ${record.template}`) ?? 0),
  });
  return [
    ...shared.map((one) => listed(one, 'shared')),
    ...unfinished.map((one) => listed(one, 'interrupted')),
  ];
}

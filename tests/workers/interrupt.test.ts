import { fork } from 'node:child_process';
import { expect, it } from 'vitest';

const CHILD = new URL('../../dist/workers/child.js', import.meta.url);

it('a child outlives the Ctrl-C that a terminal sends to the whole program, until its parent is gone', async () => {
  const child = fork(CHILD, [String(2 ** 30)], { stdio: ['ignore', 'ignore', 'ignore', 'ipc'] });
  const message = (): Promise<unknown> => new Promise((resolve) => child.once('message', resolve));
  const ended = new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal)));
  expect(await message()).toMatchObject({ kind: 'ready' });
  child.kill('SIGINT');
  const answer = Promise.race([message(), ended]);
  child.send({ number: 1, job: { kind: 'identify', job: { path: '/nowhere', name: 'a.jpg' } } });
  expect(await answer).toMatchObject({ kind: 'done', number: 1 });
  child.disconnect();
  expect(await ended).toBe('SIGKILL');
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fail, ok } from '../../../../core/result.ts';
import { failure, say } from '../../../../electron/bridge/errors.ts';
import { createHandlers } from '../../../../electron/bridge/handlers.ts';

const info = { version: '1', host: 'loopback', jobsFolder: '/jobs' } as const;

function registry() {
  const reports: string[] = [];
  const handlers = createHandlers((what, error) => reports.push(`${what}: ${String(error)}`));
  return { handlers, reports };
}

describe('createHandlers', () => {
  it('runs a command and gives its result', async () => {
    const { handlers } = registry();
    handlers.handle('app.info', () => ok(info));
    expect(await handlers.dispatch('app.info', {})).toEqual({ ok: true, value: info });
  });

  it('refuses a second handler of the same command', () => {
    const { handlers } = registry();
    handlers.handle('app.info', () => ok(info));
    expect(() => handlers.handle('app.info', () => ok(info))).toThrow('app.info');
  });

  it.each([['nonsense'], ['toString'], ['__proto__'], [42], [undefined]])(
    'does not know the command %s',
    async (name) => {
      const { handlers } = registry();
      expect(await handlers.dispatch(name, {})).toMatchObject({
        ok: false,
        error: { code: 'UNKNOWN_COMMAND' },
      });
    },
  );

  it('says which argument is wrong and does not run the handler', async () => {
    const { handlers } = registry();
    let ran = false;
    handlers.handle('playback.seek', () => {
      ran = true;
      return ok(null);
    });
    for (const args of [
      { role: 'live', position: -1 },
      { role: 'live', position: Number.NaN },
      { role: 'live', position: 1, more: 1 },
      { role: 'other', position: 1 },
      null,
      undefined,
    ]) {
      const result = await handlers.dispatch('playback.seek', args);
      expect(result).toMatchObject({ ok: false, error: { code: 'BAD_ARGUMENTS' } });
    }
    const result = await handlers.dispatch('playback.seek', { role: 'live', position: -1 });
    expect(!result.ok && say(result.error)).toContain('position');
    expect(ran).toBe(false);
  });

  it('passes an expected failure on and turns an unexpected one into INTERNAL, with a report', async () => {
    const { handlers, reports } = registry();
    handlers.handle('job.current', () => fail(failure('NO_JOB')));
    handlers.handle('session.stop', () => {
      throw new Error('the cable caught fire');
    });
    handlers.handle('job.close', () => Promise.reject(new Error('later')));
    expect(await handlers.dispatch('job.current', {})).toEqual(fail(failure('NO_JOB')));
    expect(await handlers.dispatch('session.stop', {})).toEqual(
      fail(failure('INTERNAL', { detail: 'the cable caught fire' })),
    );
    expect(await handlers.dispatch('job.close', {})).toMatchObject({ ok: false });
    expect(reports).toEqual([
      'command session.stop: Error: the cable caught fire',
      'command job.close: Error: later',
    ]);
  });

  it('tells what the disk refused as such', async () => {
    const { handlers } = registry();
    handlers.handle('job.close', () => {
      readFileSync('/no/such/file');
      return ok(null);
    });
    expect(await handlers.dispatch('job.close', {})).toMatchObject({ error: { code: 'IO' } });
  });

  it('lets changes wait for one another, in order, and reads pass', async () => {
    const { handlers } = registry();
    const order: string[] = [];
    let open = (): void => undefined;
    handlers.handle('job.close', async () => {
      order.push('close begins');
      await new Promise<void>((resolve) => (open = resolve));
      order.push('close ends');
      return ok(null);
    });
    handlers.handle('session.stop', () => {
      order.push('stop');
      return ok(null);
    });
    handlers.handle('app.info', () => {
      order.push('info');
      return ok(info);
    });
    const first = handlers.dispatch('job.close', {});
    const second = handlers.dispatch('session.stop', {});
    await handlers.dispatch('app.info', {});
    open();
    await Promise.all([first, second]);
    expect(order.filter((what) => what !== 'info')).toEqual(['close begins', 'close ends', 'stop']);
    expect(order.indexOf('info')).toBeLessThan(order.indexOf('close ends'));
  });

  it('goes on after a command that failed', async () => {
    const { handlers } = registry();
    handlers.handle('job.close', () => Promise.reject(new Error('no')));
    handlers.handle('session.stop', () => ok(null));
    const first = handlers.dispatch('job.close', {});
    expect(await handlers.dispatch('session.stop', {})).toEqual(ok(null));
    expect((await first).ok).toBe(false);
  });
});

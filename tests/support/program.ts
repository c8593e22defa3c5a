import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Result } from '../../core/result.ts';
import type { CommandArgs, CommandName, CommandResults } from '../../electron/bridge/commands.ts';
import { say, type Failure } from '../../electron/bridge/errors.ts';
import type { HubEvent } from '../../electron/bridge/hub.ts';
import { programRoot } from '../../electron/host/root.ts';
import { createServices, type Services } from '../../electron/services/app.ts';
import type { Clock } from '../../electron/clock.ts';
import type { SourcePlanner } from '../../electron/services/source-planner.ts';

/** The real services on a data folder of their own, without a window. */
export interface TestProgram {
  readonly services: Services;
  readonly home: string;
  /** Everything told to the screens so far. */
  readonly events: readonly HubEvent[];
  readonly call: <C extends CommandName>(
    name: C,
    args: CommandArgs<C>,
  ) => Promise<Result<CommandResults[C], Failure>>;
  /** Runs a command that must succeed. */
  readonly must: <C extends CommandName>(
    name: C,
    args: CommandArgs<C>,
  ) => Promise<CommandResults[C]>;
}

/** Builds the program as its hosts do. No radio process is started unless a test looks for one. */
export function startProgram(
  options: {
    readonly home?: string;
    readonly clock?: Clock;
    readonly planner?: SourcePlanner;
  } = {},
): TestProgram {
  const home = options.home ?? mkdtempSync(join(tmpdir(), 'stillpoint-program-'));
  const services = createServices({
    host: 'loopback',
    root: programRoot(import.meta.dirname),
    env: { STILLPOINT_HOME: home },
    spawnRadio: () => () => {
      throw new Error('no radio in this test');
    },
    ...(options.clock === undefined ? {} : { clock: options.clock }),
    ...(options.planner === undefined ? {} : { planner: options.planner }),
  });
  const events: HubEvent[] = [];
  services.hub.subscribe((event) => events.push(event));
  const call: TestProgram['call'] = async (name, args) =>
    (await services.handlers.dispatch(name, args)) as Result<CommandResults[typeof name], Failure>;
  return {
    services,
    home,
    events,
    call,
    async must(name, args) {
      const result = await call(name, args);
      if (!result.ok) throw new Error(`${name}: ${say(result.error)}`);
      return result.value;
    },
  };
}

import { fail, type Result } from '../../core/result.ts';
import { COMMANDS, type CommandArgs, type CommandName, type CommandResults } from './commands.ts';
import { failure, type Failure } from './errors.ts';

/** What a handler gives back: at once or later; expected failures are data. */
export type Answer<C extends CommandName> =
  Result<CommandResults[C], Failure> | Promise<Result<CommandResults[C], Failure>>;

/** The one registry of commands; both transports dispatch into it. */
export interface Handlers {
  /**
   * Registers the handler of a command.
   *
   * @throws Error when the command already has one
   */
  handle<C extends CommandName>(name: C, fn: (args: CommandArgs<C>) => Answer<C>): void;
  /** Runs a command that came from outside; nothing is believed about its name or arguments. */
  dispatch(name: unknown, args: unknown): Promise<Result<unknown, Failure>>;
  /** Commands without a handler: a host must not start with any. */
  missing(): readonly CommandName[];
}

/**
 * Commands that change nothing: they need not wait for one another. All others run one after the
 * other in the order they came, so that no handler meets a half-done change.
 */
const READS: ReadonlySet<CommandName> = new Set([
  'app.info',
  'settings.get',
  'source.list',
  'scenario.list',
  'job.current',
  'session.current',
  'trend.query',
  'review.verify',
  'sensors.watch',
] satisfies CommandName[]);

type Handler = (args: unknown) => Promise<Result<unknown, Failure>>;

/**
 * @param report gets what no handler expected, for the log
 */
export function createHandlers(report: (what: string, error: unknown) => void): Handlers {
  const handlers = new Map<CommandName, Handler>();
  let queue: Promise<unknown> = Promise.resolve();

  return {
    handle(name, fn) {
      if (handlers.has(name)) throw new Error(`the command ${name} already has a handler`);
      handlers.set(name, async (raw) => {
        const parsed = COMMANDS[name].safeParse(raw);
        if (!parsed.success) {
          const detail = parsed.error.issues
            .map((issue) => `${issue.path.join('.')} ${issue.message}`.trim())
            .join('; ');
          return fail(failure('BAD_ARGUMENTS', { command: name, detail }));
        }
        try {
          return await fn(parsed.data as CommandArgs<typeof name>);
        } catch (error) {
          report(`command ${name}`, error);
          return fail(
            failure(isDiskError(error) ? 'IO' : 'INTERNAL', { detail: messageOf(error) }),
          );
        }
      });
    },
    dispatch(name, args) {
      const handler = isCommand(name) ? handlers.get(name) : undefined;
      if (!isCommand(name) || handler === undefined) {
        return Promise.resolve(fail(failure('UNKNOWN_COMMAND', { command: shorten(name) })));
      }
      if (READS.has(name)) return handler(args);
      const turn = queue.then(() => handler(args));
      queue = turn;
      return turn;
    },
    missing: () => COMMAND_NAMES.filter((name) => !handlers.has(name)),
  };
}

const COMMAND_NAMES = Object.keys(COMMANDS) as CommandName[];

function isCommand(name: unknown): name is CommandName {
  return typeof name === 'string' && Object.hasOwn(COMMANDS, name);
}

/** What came instead of a name, short enough for a message. */
function shorten(name: unknown): string {
  return typeof name === 'string' ? name.slice(0, 60) : typeof name;
}

/** Whether the operating system refused something. */
function isDiskError(error: unknown): boolean {
  return error instanceof Error && 'syscall' in error;
}

/** The message of whatever was thrown. */
export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

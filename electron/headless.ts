import { UserError } from './headless/args.ts';
import { HELP } from './headless/help.ts';

type Verb = (args: readonly string[]) => unknown;

/** The verbs; each is loaded only when asked for, so that a small question is answered fast. */
const VERBS: Readonly<Record<string, () => Promise<Verb>>> = {
  saturation: async () => (await import('./headless/saturation.ts')).saturation,
  analyze: async () => (await import('./headless/analyze.ts')).analyze,
  compare: async () => (await import('./headless/compare.ts')).compareFiles,
  simulate: async () => (await import('./headless/simulate.ts')).simulate,
  convert: async () => (await import('./headless/convert.ts')).convert,
  replay: async () => (await import('./headless/replay.ts')).replay,
};

/** Runs one verb; the exit code of the process. */
async function main(argv: readonly string[]): Promise<number> {
  const [name, ...args] = argv;
  if (name === 'help' || name === '--help' || args.includes('--help')) {
    process.stdout.write(HELP);
    return 0;
  }
  try {
    const load = name !== undefined && Object.hasOwn(VERBS, name) ? VERBS[name] : undefined;
    if (load === undefined) {
      throw new UserError(
        `${name === undefined ? 'which verb?' : `there is no verb ${name};`} the verbs are ${Object.keys(VERBS).join(', ')}`,
      );
    }
    const verb = await load();
    const result = await verb(args);
    process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
    return 0;
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    process.stderr.write(`${name ?? 'headless'}: ${error.message}\n`);
    return 2;
  }
}

process.exitCode = await main(process.argv.slice(2));

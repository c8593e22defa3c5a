/**
 * `npm run reference`: regenerates every refrigerant file and check grid with CoolProp, in a Python
 * environment of its own, and fails where a committed file differs. `-- --write` writes them instead.
 *
 * A number may differ by one unit of the last digit that was written: the mathematics library picks
 * its instructions by processor, and a value that lies on the edge of rounding can fall either way.
 * Everything else must be the same to the byte.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../../..');
const environment = join(root, '.venv', 'reference');
const requirements = join(here, 'requirements.txt');
const folders = {
  data: join(root, 'core/refrigerant/data'),
  fixtures: join(root, 'fixtures/reference/refrigerant'),
};

const say = (text) => process.stdout.write(`${text}\n`);

class Failure extends Error {}

function run(command, args, options = {}) {
  return spawnSync(command, args, {
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: '1', PIP_DISABLE_PIP_VERSION_CHECK: '1' },
    ...options,
  });
}

/** Makes a virtual environment with whichever Python there is; true when it worked. */
function makeEnvironment() {
  for (const python of ['python3', 'python']) {
    rmSync(environment, { recursive: true, force: true });
    mkdirSync(dirname(environment), { recursive: true });
    const made = run(python, ['-m', 'venv', environment], { stdio: 'ignore' });
    if (made.status === 0) return true;
  }
  rmSync(environment, { recursive: true, force: true });
  return false;
}

function installPythonOnDebian() {
  const mayInstall = existsSync('/usr/bin/apt-get') && process.getuid?.() === 0;
  if (!mayInstall) return;
  say('Python 3 with venv is missing: installing it with apt-get.');
  const quiet = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  run('apt-get', ['update', '-qq'], quiet);
  run('apt-get', ['install', '-y', '-qq', 'python3', 'python3-venv'], quiet);
}

/** The Python of an environment that holds exactly what requirements.txt names. */
function preparedPython() {
  const windows = process.platform === 'win32';
  const python = join(environment, windows ? 'Scripts/python.exe' : 'bin/python');
  const version = /^CoolProp==(\S+)$/m.exec(readFileSync(requirements, 'utf8'))?.[1];
  const probe = `import CoolProp; assert CoolProp.__version__ == '${version}'`;
  const ready = () => run(python, ['-c', probe], { stdio: 'ignore' }).status === 0;
  if (ready()) return python;
  if (!makeEnvironment()) {
    installPythonOnDebian();
    if (!makeEnvironment()) {
      throw new Failure(
        'No Python 3 with the venv module was found. Install it (Debian and Ubuntu: ' +
          'sudo apt-get install python3 python3-venv; elsewhere: python.org) and run this again.',
      );
    }
  }
  const installed = run(python, ['-m', 'pip', 'install', '--quiet', '-r', requirements]);
  if (installed.status !== 0 || !ready()) {
    throw new Failure(
      `CoolProp ${version} could not be installed into ${environment}. It comes from the Python ` +
        'package index: check the network (or PIP_INDEX_URL) and that this Python has a wheel for it.',
    );
  }
  return python;
}

function generate(python, target) {
  const args = ['--data', target.data, '--fixtures', target.fixtures];
  if (run(python, [join(here, 'generate.py'), ...args]).status !== 0) {
    throw new Failure('The generator stopped; its message is above.');
  }
}

const numbers = /-?\d+(?:\.\d+)?(?:e[-+]?\d+)?/g;

/** One unit of the last digit a number was written with. */
function lastDigit(text) {
  const [mantissa, exponent = '0'] = text.split('e');
  return 10 ** (Number(exponent) - (mantissa.split('.')[1]?.length ?? 0));
}

/** Counts numbers that differ in their last digit; null when the texts differ otherwise. */
function lastDigitDifferences(committed, made) {
  if (committed.replace(numbers, '#') !== made.replace(numbers, '#')) return null;
  const a = committed.match(numbers) ?? [];
  const b = made.match(numbers) ?? [];
  let count = 0;
  for (const [i, text] of a.entries()) {
    if (text === b[i]) continue;
    const unit = Math.min(lastDigit(text), lastDigit(b[i]));
    if (Math.abs(Number(text) - Number(b[i])) > 1.01 * unit) return null;
    count += 1;
  }
  return count;
}

function compare(committedFolder, madeFolder) {
  const problems = [];
  let inexact = 0;
  const names = new Set([...readdirSync(committedFolder), ...readdirSync(madeFolder)]);
  for (const name of [...names].sort()) {
    const [committed, made] = [join(committedFolder, name), join(madeFolder, name)];
    if (!existsSync(made)) problems.push(`${committed}: no refrigerant makes this file`);
    else if (!existsSync(committed)) problems.push(`${committed}: missing`);
    else {
      const found = lastDigitDifferences(
        readFileSync(committed, 'utf8'),
        readFileSync(made, 'utf8'),
      );
      if (found === null) problems.push(`${committed}: differs from what the generator makes`);
      else inexact += found;
    }
  }
  return { problems, inexact, files: names.size };
}

function check(python) {
  const base = mkdtempSync(join(tmpdir(), 'stillpoint-reference-'));
  try {
    const made = { data: join(base, 'data'), fixtures: join(base, 'fixtures') };
    generate(python, made);
    const results = Object.keys(folders).map((key) => compare(folders[key], made[key]));
    const problems = results.flatMap((r) => r.problems);
    if (problems.length > 0) {
      throw new Failure(
        `${problems.join('\n')}\nTo take the regenerated files: npm run reference -- --write`,
      );
    }
    const files = results.reduce((sum, r) => sum + r.files, 0);
    const inexact = results.reduce((sum, r) => sum + r.inexact, 0);
    say(`${files} files agree with CoolProp; ${inexact} numbers differ by one last digit.`);
  } finally {
    rmSync(base, { recursive: true, force: true });
  }
}

try {
  const python = preparedPython();
  if (process.argv.includes('--write')) generate(python, folders);
  else check(python);
} catch (error) {
  if (!(error instanceof Failure)) throw error;
  process.stderr.write(`reference: ${error.message}\n`);
  process.exitCode = 1;
}

/**
 * `npm run test:radio`: makes the tests' own Python environment in .venv/radio, sends a million
 * packets through the decoders, and runs noble against an independent Bluetooth stack.
 * `-- --quick` shortens the endurance test from five minutes to twenty seconds, for development.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const venv = `${root}.venv/radio`;
const requirements = `${root}tests/radio/peripherals/requirements.txt`;
const installed = `${venv}/installed.txt`;
const python = process.platform === 'win32' ? `${venv}/Scripts/python.exe` : `${venv}/bin/python`;
const isQuick = process.argv.includes('--quick');

function run(command: string, args: readonly string[], env: Record<string, string> = {}): void {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  if (done.error !== undefined) throw done.error;
  if (done.status !== 0) process.exit(done.status ?? 1);
}

const wanted = readFileSync(requirements, 'utf8');
if (!existsSync(installed) || readFileSync(installed, 'utf8') !== wanted) {
  run(process.env['PYTHON'] ?? 'python3', ['-m', 'venv', venv]);
  run(python, ['-m', 'pip', 'install', '--quiet', '-r', requirements]);
  writeFileSync(installed, wanted);
}
run(process.execPath, ['--import', 'tsx', '--expose-gc', 'tests/radio/fuzz.ts']);
run(
  process.execPath,
  ['node_modules/vitest/vitest.mjs', 'run', '--config', 'tests/radio/vitest.config.ts'],
  {
    RADIO_PYTHON: python,
    RADIO_QUICK: isQuick ? '1' : '',
  },
);

import type { Noble } from './noble-types.ts';
import { parentPort, runRadioProcess } from './worker-main.ts';

/** The only import of noble: it throws where the system has no Bluetooth. */
async function loadNoble(): Promise<Noble> {
  const loaded = (await import('@abandonware/noble')) as unknown as { default: Noble };
  return loaded.default;
}

const port = parentPort();
if (port === null) {
  process.stderr.write('The radio process is started by the program, not by hand.\n');
  process.exit(64);
}
await runRadioProcess(port, loadNoble);

import { parentPort, runRadioProcess } from '../../electron/radio/worker-main.ts';
import { nobleOver } from './hci-over-tcp.ts';

/** The radio process of the tests: the real one, with noble's native socket replaced by TCP. */
const port = parentPort();
if (port === null) throw new Error('started by the test only');
const controller = Number(process.env['CONTROLLER_PORT']);
await runRadioProcess(port, () => Promise.resolve(nobleOver(controller)));

import type { Result } from '../../core/result.ts';
import type { Failure } from '../../electron/bridge/errors.ts';
import type { Bridge } from '../../electron/bridge/client.ts';
import type { JobView } from '../../electron/bridge/views.ts';

/** Bytes a piece; its base64 stays well under the limit of the command. */
const PIECE = 3_000_000;

/** Hands a job file from the browser to the host, piece by piece; the last one opens it. */
export async function importFile(
  bridge: Bridge,
  file: File,
): Promise<Result<JobView | null, Failure>> {
  const upload = crypto.randomUUID();
  for (let at = 0; ; at += PIECE) {
    const last = at + PIECE >= file.size;
    const base64 = await base64Of(file.slice(at, at + PIECE));
    const sent = await bridge.call('job.import', { upload, name: file.name, base64, last });
    if (!sent.ok || last) return sent;
  }
}

function base64Of(piece: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve((reader.result as string).split(',')[1] ?? '');
    reader.onerror = () =>
      reject(new Error(`the file could not be read: ${reader.error?.message ?? ''}`));
    reader.readAsDataURL(piece);
  });
}

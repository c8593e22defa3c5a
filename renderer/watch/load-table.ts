import type { Result } from '../../core/result.ts';
import { encodingOf } from '../../core/stream/text-encoding.ts';
import type { Bridge } from '../../electron/bridge/client.ts';
import type { Failure } from '../../electron/bridge/errors.ts';
import type { CsvSummary } from '../../electron/bridge/views.ts';

/** Bytes a piece; no more characters than bytes, which stays under the limit of the command. */
const PIECE = 3_000_000;

/**
 * Hands a table to the host, piece by piece, so that neither a message nor the window need hold the
 * whole of it. Null where `wanted` says meanwhile that it is not wanted any more.
 *
 * @param progress told the share (0 to 1) that has been sent
 */
export async function loadTable(
  bridge: Bridge,
  file: File,
  wanted: () => boolean,
  progress: (share: number) => void,
): Promise<Result<CsvSummary, Failure> | null> {
  const upload = crypto.randomUUID();
  let decoder: TextDecoder | null = null;
  for (let at = 0; wanted(); at += PIECE) {
    const last = at + PIECE >= file.size;
    const bytes = await file.slice(at, at + PIECE).arrayBuffer();
    decoder ??= new TextDecoder(encodingOf(new Uint8Array(bytes)));
    const text = decoder.decode(bytes, { stream: !last });
    const piece = at / PIECE;
    const sent = await bridge.call('csv.load', {
      upload,
      piece,
      name: file.name,
      size: file.size,
      text,
      last,
    });
    if (!sent.ok) return sent;
    if (sent.value !== null) return { ok: true, value: sent.value };
    progress((at + bytes.byteLength) / file.size);
  }
  return null;
}

import { describe, expect, it } from 'vitest';
import type { Bridge } from '../../../electron/bridge/client.ts';
import type { CommandArgs } from '../../../electron/bridge/commands.ts';
import { loadTable } from '../../../renderer/watch/load-table.ts';

type Piece = CommandArgs<'csv.load'>;

/** A bridge that keeps the pieces and answers the last with a summary. */
function host() {
  const pieces: Piece[] = [];
  const call = (_name: string, piece: Piece) => {
    pieces.push(piece);
    return Promise.resolve({ ok: true, value: piece.last ? { id: 'x' } : null });
  };
  return { pieces, bridge: { call } as unknown as Bridge };
}

/** Signs of two bytes, so that some piece ends in the middle of one. */
const TEXT = `x${'°'.repeat(3_500_000)}`;

describe('a table handed to the host', () => {
  it('goes in pieces and comes together to the same text', async () => {
    const { pieces, bridge } = host();
    const shares: number[] = [];
    const file = new File([TEXT], 'log.csv');
    const loaded = await loadTable(
      bridge,
      file,
      () => true,
      (share) => shares.push(share),
    );
    expect(loaded).toEqual({ ok: true, value: { id: 'x' } });
    expect(pieces.map((p) => p.piece)).toEqual([0, 1, 2]);
    expect(pieces.map((p) => p.last)).toEqual([false, false, true]);
    expect(pieces.map((p) => p.text).join('') === TEXT).toBe(true);
    expect(new Set(pieces.map((p) => `${p.upload} ${p.size}`)).size).toBe(1);
    expect(shares).toEqual([3_000_000 / file.size, 6_000_000 / file.size]);
  });

  it('is read as UTF-16 where its first bytes say so, whatever pieces it goes in', async () => {
    const { pieces, bridge } = host();
    const units = Uint16Array.from(`\uFEFF${TEXT}`, (sign) => sign.charCodeAt(0));
    const file = new File([units], 'log.txt');
    await loadTable(
      bridge,
      file,
      () => true,
      () => undefined,
    );
    expect(pieces.length).toBe(3);
    expect(pieces.map((p) => p.text).join('') === TEXT).toBe(true);
  });

  it('ends in one piece where it is empty, and stops where it is not wanted any more', async () => {
    const { pieces, bridge } = host();
    const none = () => undefined;
    await loadTable(bridge, new File([], 'empty.csv'), () => true, none);
    expect(pieces).toMatchObject([{ text: '', last: true }]);
    const before = () => pieces.length < 2;
    expect(await loadTable(bridge, new File([TEXT], 'log.csv'), before, none)).toBeNull();
    expect(pieces.length).toBe(2);
  });
});

import { useEffect, useState, type ReactNode } from 'react';
import type { VerifyRow } from '../../electron/bridge/views.ts';
import { Dialog } from '../app/Dialog.tsx';
import { useCommand } from '../store/context.ts';

/** Recomputes every snapshot of the job from its samples and says whether it agrees. */
export function VerifyDialog({ onClose }: { readonly onClose: () => void }): ReactNode {
  const command = useCommand();
  const [rows, setRows] = useState<readonly VerifyRow[] | null>(null);
  useEffect(() => {
    void command('review.verify', {}).then(setRows);
  }, [command]);
  return (
    <Dialog title="Does the record hold?" onClose={onClose}>
      <div className="verify">
        {rows === null ? (
          <p role="status">Recomputing every snapshot from its samples…</p>
        ) : (
          <Answer rows={rows} />
        )}
      </div>
    </Dialog>
  );
}

function Answer({ rows }: { readonly rows: readonly VerifyRow[] }): ReactNode {
  if (rows.length === 0) return <p>There are no snapshots in this job to verify.</p>;
  const off = rows.filter((row) => !row.samplesAgree || !row.numbersAgree).length;
  return (
    <>
      <p className="verdict" data-holds={off === 0} role="status">
        {off === 0
          ? `${rows.length === 1 ? 'It agrees' : `All ${rows.length} agree`}: the same samples give the same numbers to the last bit.`
          : `${off} of ${rows.length} do not agree.`}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Unit</th>
            <th scope="col">Snapshot</th>
            <th scope="col">Samples</th>
            <th scope="col">Numbers</th>
            <th scope="col">What differs</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.snapshotId}>
              <td>{row.unit}</td>
              <td>{row.label}</td>
              <td>{row.samplesAgree ? 'agree' : 'changed'}</td>
              <td>{row.numbersAgree ? 'agree' : 'differ'}</td>
              <td>{row.detail ?? '—'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

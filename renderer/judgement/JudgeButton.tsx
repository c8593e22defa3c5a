import { useMemo, useState, type ReactNode } from 'react';
import type { SnapshotRecord } from '../../core/record/snapshot.ts';
import { useApp, useConfig, useEngine, usePattern, useStood } from '../store/context.ts';
import { useStanding } from '../store/use-standing.ts';
import type { Role } from '../store/store.ts';
import { JudgementSheet } from './JudgementSheet.tsx';

/** Asks what the present readings of a unit say. */
export function JudgeButton({
  role,
  unit,
}: {
  readonly role: Role;
  readonly unit: string;
}): ReactNode {
  const [open, setOpen] = useState(false);
  return (
    <>
      <button type="button" className="judge" onClick={() => setOpen(true)}>
        What do they say?
      </button>
      {open && <LiveSheet role={role} unit={unit} onClose={() => setOpen(false)} />}
    </>
  );
}

function LiveSheet(p: {
  readonly role: Role;
  readonly unit: string;
  readonly onClose: () => void;
}): ReactNode {
  const state = useEngine(p.role, p.unit, (s) => s);
  const config = useConfig(p.role, p.unit);
  const pattern = usePattern(p.role, p.unit);
  const stood = useStood(p.role, p.unit);
  const session = useApp((s) => s[p.role]?.sessionId ?? null);
  const judged = useMemo(
    () => (config === null ? null : { config, state, snapshot: null, session, pattern, stood }),
    [config, state, session, pattern, stood],
  );
  const standing = useStanding(p.role, p.unit);
  if (judged === null) return null;
  return (
    <JudgementSheet
      unit={p.unit}
      judged={judged}
      role={p.role}
      standing={standing}
      onClose={p.onClose}
    />
  );
}

/** Asks what a snapshot of the record says. */
export function JudgeSnapshot({ snapshot }: { readonly snapshot: SnapshotRecord }): ReactNode {
  const [open, setOpen] = useState(false);
  const judged = useMemo(
    () => ({
      config: snapshot.config,
      state: null,
      snapshot,
      session: snapshot.sessionId,
      pattern: null,
      stood: null,
    }),
    [snapshot],
  );
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        What does it say?
      </button>
      {open && (
        <JudgementSheet
          unit={snapshot.unit}
          judged={judged}
          role={null}
          standing={null}
          onClose={() => setOpen(false)}
        />
      )}
    </>
  );
}

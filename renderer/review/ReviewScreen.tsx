import { useState, type ReactNode } from 'react';
import { Notices } from '../app/Notices.tsx';
import { Sessions } from '../job/Sessions.tsx';
import { JudgeButton } from '../judgement/JudgeButton.tsx';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { RangeSwitch, type Range } from '../watch/RangeSwitch.tsx';
import { UnitPanel } from '../watch/UnitPanel.tsx';
import { PlaybackBar } from './PlaybackBar.tsx';
import { RecomputeDialog } from './RecomputeDialog.tsx';
import { ReviewDialog } from './ReviewDialog.tsx';
import { VerifyDialog } from './VerifyDialog.tsx';
import '../watch/watch.css';
import '../job/job.css';
import './review.css';

/** Replays a session of the open job as it was seen, and checks the record against its samples. */
export function ReviewScreen(): ReactNode {
  const open = useApp((s) => s.review !== null);
  return open ? <Replay /> : <Choose />;
}

function Choose(): ReactNode {
  const { store } = useServices();
  const sessions = useApp((s) => s.job?.sessions.length ?? null);
  const [verifying, setVerifying] = useState(false);
  return (
    <main className="room">
      <div className="page">
        <section className="sheet record-head">
          <div>
            <h1>Review</h1>
            {sessions === null && <p>Open the job whose sessions you want to see again.</p>}
            {sessions === 0 && <p>Nothing has been recorded in this job yet.</p>}
            {sessions !== null && sessions > 0 && (
              <p>
                Replay a session as the technician saw it, or verify that every snapshot still
                follows from its samples.
              </p>
            )}
          </div>
          {sessions === null ? (
            <button type="button" className="primary" onClick={() => put(store, { room: 'job' })}>
              Go to the jobs
            </button>
          ) : (
            <button type="button" className="primary" onClick={() => setVerifying(true)}>
              Verify the record
            </button>
          )}
        </section>
        <Sessions />
      </div>
      {verifying && <VerifyDialog onClose={() => setVerifying(false)} />}
    </main>
  );
}

function Replay(): ReactNode {
  const units = useApp((s) => (s.review?.units ?? []).map((u) => u.unit).join(' '));
  const [range, setRange] = useState<Range>(1800);
  const keys = units.split(' ').filter((key) => key !== '');
  return (
    <main className="room watch">
      <PlaybackBar role="review" />
      <div className="units" data-count={keys.length}>
        {keys.map((unit) => (
          <UnitPanel key={unit} role="review" unit={unit} range={range}>
            <JudgeButton role="review" unit={unit} />
          </UnitPanel>
        ))}
      </div>
      <footer className="watch-foot">
        <Tools />
        <div className="foot-words">
          <Notices />
        </div>
        <RangeSwitch range={range} onChange={setRange} />
      </footer>
    </main>
  );
}

/** What a reviewer does beside watching. */
function Tools(): ReactNode {
  const command = useCommand();
  const { store } = useServices();
  const [dialog, setDialog] = useState<'verify' | 'recompute' | 'review' | null>(null);
  const close = () => setDialog(null);
  const recompute = () => {
    void command('playback.pause', { role: 'review' });
    setDialog('recompute');
  };
  const review = () => {
    void command('playback.pause', { role: 'review' });
    setDialog('review');
  };
  const leave = async () => {
    await command('review.close', {});
    put(store, { review: null });
  };
  return (
    <div className="review-tools">
      <button type="button" onClick={() => setDialog('verify')}>
        Verify the record
      </button>
      <button type="button" onClick={recompute}>
        Recompute otherwise
      </button>
      <button type="button" onClick={review}>
        Accept or query
      </button>
      <button type="button" onClick={() => void leave()}>
        Another session
      </button>
      {dialog === 'verify' && <VerifyDialog onClose={close} />}
      {dialog === 'review' && <ReviewDialog onClose={close} />}
      {dialog === 'recompute' && <RecomputeDialog onClose={close} />}
    </div>
  );
}

import { useState, type ReactNode } from 'react';
import { CHARGING, DEFER } from '../app/cautions.ts';
import { Notices } from '../app/Notices.tsx';
import { JudgeButton } from '../judgement/JudgeButton.tsx';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { askToNotify } from './callout.ts';
import { ManualEntry } from './ManualEntry.tsx';
import { Pace } from './Pace.tsx';
import { RangeSwitch, type Range } from './RangeSwitch.tsx';
import { SnapshotBar } from './SnapshotBar.tsx';
import { SourcePicker } from './SourcePicker.tsx';
import { UnitPanel } from './UnitPanel.tsx';
import './watch.css';

/** Beside the unit: a running session, or the choice of one. */
export function WatchScreen(): ReactNode {
  const running = useApp((s) => s.live !== null);
  return running ? <Watching /> : <SourcePicker />;
}

function Watching(): ReactNode {
  const units = useApp((s) => (s.live?.units ?? []).map((u) => u.unit).join(' '));
  const typed = useApp((s) => s.live?.capabilities.includes('enter') === true);
  const [range, setRange] = useState<Range>(1800);
  const keys = units.split(' ').filter((key) => key !== '');
  return (
    <main className="room watch">
      {typed && keys.map((unit) => <ManualEntry key={unit} unit={unit} />)}
      <div className="units" data-count={keys.length}>
        {keys.map((unit) => (
          <UnitPanel key={unit} role="live" unit={unit} range={range}>
            <SnapshotBar unit={unit} />
            <JudgeButton role="live" unit={unit} />
          </UnitPanel>
        ))}
      </div>
      <footer className="watch-foot">
        <div className="foot-words">
          <p>
            {DEFER} {CHARGING[0]}
          </p>
          <Notices />
        </div>
        <Pace />
        <CalloutSwitch />
        <RangeSwitch range={range} onChange={setRange} />
      </footer>
    </main>
  );
}

/** Sound and system notifications on or off; turning them on also asks for leave to notify. */
function CalloutSwitch(): ReactNode {
  const { store } = useServices();
  const command = useCommand();
  const settings = useApp((s) => s.settings);
  const toggle = async () => {
    if (!settings.sound) await askToNotify();
    const saved = await command('settings.set', { ...settings, sound: !settings.sound });
    if (saved !== null) put(store, { settings: saved });
  };
  return (
    <button
      type="button"
      className="quiet"
      aria-pressed={settings.sound}
      onClick={() => void toggle()}
    >
      {settings.sound ? 'Calls out when still: on' : 'Calls out when still: off'}
    </button>
  );
}

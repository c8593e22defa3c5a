import { useState, type ReactNode } from 'react';
import { UNIT_SYSTEMS, type UnitSystem } from '../../core/units/systems.ts';
import { put, ROOMS } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { ROOM_TEXT } from './text.ts';
import { Glyph } from './Glyph.tsx';
import { SettingsDialog } from './SettingsDialog.tsx';

/** Name, rooms, the open job, session and unit controls. */
export function TopBar(): ReactNode {
  return (
    <header className="top">
      <div className="mark">
        <Glyph state="settled" />
        Stillpoint
      </div>
      <RoomButtons />
      <OpenJob />
      <div className="top-tools">
        <SessionButton />
        <UnitsSwitch />
        <SettingsButton />
      </div>
    </header>
  );
}

function RoomButtons(): ReactNode {
  const { store } = useServices();
  const room = useApp((s) => s.room);
  return (
    <nav className="rooms" aria-label="Rooms">
      {ROOMS.map((key, i) => (
        <button
          key={key}
          type="button"
          aria-current={key === room ? 'page' : undefined}
          aria-keyshortcuts={`Alt+${i + 1}`}
          title={`Alt+${i + 1}`}
          onClick={() => put(store, { room: key })}
        >
          {ROOM_TEXT[key]}
        </button>
      ))}
    </nav>
  );
}

function OpenJob(): ReactNode {
  const title = useApp((s) => s.job?.head.title ?? null);
  const site = useApp((s) => s.job?.head.site.name ?? '');
  return (
    <div className="top-job">
      {title !== null && <strong>{title}</strong>}
      {title !== null && <span>{site}</span>}
    </div>
  );
}

function SessionButton(): ReactNode {
  const { store } = useServices();
  const command = useCommand();
  const running = useApp((s) => s.live !== null);
  const hasJob = useApp((s) => s.job !== null);
  const isThere = useApp((s) => s.room === 'watch');
  if (running) {
    return (
      <button type="button" onClick={() => void command('session.stop', {})}>
        Stop session
      </button>
    );
  }
  // On Watch itself what can be started stands on the screen.
  if (!hasJob || isThere) return null;
  return (
    <button type="button" className="primary" onClick={() => put(store, { room: 'watch' })}>
      Start session
    </button>
  );
}

const UNITS_TEXT: Record<UnitSystem, string> = {
  us: '°F psig',
  si: '°C kPag',
  bar: '°C barg',
};

function UnitsSwitch(): ReactNode {
  const { store } = useServices();
  const command = useCommand();
  const settings = useApp((s) => s.settings);
  const choose = async (units: UnitSystem) => {
    const saved = await command('settings.set', { ...settings, units });
    if (saved !== null) put(store, { settings: saved });
  };
  return (
    <div className="switch" role="group" aria-label="Units">
      {UNIT_SYSTEMS.map((units) => (
        <button
          key={units}
          type="button"
          aria-pressed={settings.units === units}
          onClick={() => void choose(units)}
        >
          {UNITS_TEXT[units]}
        </button>
      ))}
    </div>
  );
}

function SettingsButton(): ReactNode {
  const author = useApp((s) => s.settings.author);
  const [open, setOpen] = useState(false);
  return (
    <>
      <button type="button" className="author" onClick={() => setOpen(true)}>
        {author === '' ? 'Your name…' : author}
        <span className="sr">, settings</span>
      </button>
      {open && <SettingsDialog onClose={() => setOpen(false)} />}
    </>
  );
}

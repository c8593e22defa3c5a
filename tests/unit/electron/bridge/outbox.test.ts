import { describe, expect, it } from 'vitest';
import type { SessionView } from '../../../../electron/bridge/views.ts';
import { createHub } from '../../../../electron/bridge/hub.ts';
import { createOutbox, type Outgoing } from '../../../../electron/bridge/outbox.ts';

function view(role: 'live' | 'review', sessionId: string, overflow = 0): SessionView {
  return {
    role,
    sessionId,
    origin: '2026-01-01T00:00:00.000Z',
    source: { kind: 'manual', label: 'typed' },
    capabilities: [],
    health: { state: 'running', alert: null },
    playback: null,
    units: [],
    overflow,
  };
}

function outbox() {
  const sent: Outgoing[] = [];
  const box = createOutbox((message) => sent.push(message));
  const ids = (): (string | undefined)[] =>
    sent.map((m) => (m.payload as SessionView | undefined)?.sessionId);
  return { box, sent, ids };
}

describe('createOutbox', () => {
  it('sends two views ahead, then only the latest once one is acknowledged', () => {
    const { box, sent, ids } = outbox();
    for (const id of ['1', '2', '3', '4', '5']) {
      box.post({ name: 'session', payload: view('live', id) });
    }
    expect(ids()).toEqual(['1', '2']);
    box.acknowledge(sent[0]!.n!);
    expect(ids()).toEqual(['1', '2', '5']);
    expect((sent[2]!.payload as SessionView).overflow).toBe(2);
  });

  it('adds what it dropped to what the view counts itself, and never forgets it', () => {
    const { box, sent } = outbox();
    for (const id of ['1', '2', '3', '4']) {
      box.post({ name: 'session', payload: view('live', id, 7) });
    }
    box.acknowledge(sent[0]!.n!);
    box.acknowledge(sent[1]!.n!);
    box.post({ name: 'session', payload: view('live', '5', 7) });
    expect(sent.map((m) => (m.payload as SessionView).overflow)).toEqual([7, 7, 8, 8]);
  });

  it('keeps live and review apart and never holds back other events', () => {
    const { box, ids, sent } = outbox();
    for (const id of ['1', '2', '3']) box.post({ name: 'session', payload: view('live', id) });
    box.post({ name: 'session', payload: view('review', 'r') });
    box.post({ name: 'notice', payload: { level: 'info', text: 'hello' } });
    expect(ids()).toEqual(['1', '2', 'r', undefined]);
    expect(sent[3]!.n).toBeUndefined();
  });

  it('drops what waits when the session is closed', () => {
    const { box, sent } = outbox();
    for (const id of ['1', '2', '3']) box.post({ name: 'session', payload: view('live', id) });
    box.post({ name: 'sessionClosed', payload: { role: 'live' } });
    box.acknowledge(sent[0]!.n!);
    expect(sent.map((m) => m.event)).toEqual(['session', 'session', 'sessionClosed']);
  });

  it('ignores an acknowledgement of nothing', () => {
    const { box, ids } = outbox();
    for (const id of ['1', '2', '3']) box.post({ name: 'session', payload: view('live', id) });
    box.acknowledge(99);
    expect(ids()).toEqual(['1', '2']);
  });
});

describe('createHub', () => {
  it('reaches every listener though one throws, and ends with its unsubscribe', () => {
    const reports: string[] = [];
    const hub = createHub((what) => reports.push(what));
    const heard: string[] = [];
    hub.subscribe(() => {
      throw new Error('no');
    });
    const off = hub.subscribe((event) => heard.push(event.name));
    hub.emit('job', null);
    off();
    off();
    hub.emit('job', null);
    expect(heard).toEqual(['job']);
    expect(reports).toEqual(['listener of job', 'listener of job']);
  });
});

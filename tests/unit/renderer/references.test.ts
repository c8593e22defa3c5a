import { describe, expect, it } from 'vitest';
import { conditionsOf } from '../../../core/diagnosis/conditions.ts';
import { expectationsFor } from '../../../core/diagnosis/expectations.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import type { SteadinessState } from '../../../core/steadiness/types.ts';
import type { SnapshotRecord } from '../../../core/record/snapshot.ts';
import type { JobView } from '../../../electron/bridge/views.ts';
import { NO_ANSWERS, type Answers } from '../../../core/record/answers.ts';
import { inputFor, knownOutcomes } from '../../../renderer/judgement/asked.ts';
import { otherReferences, ownReferences } from '../../../renderer/judgement/references.ts';
import { testHead, testSession, testUnit } from '../../support/job.ts';
import { testConfig } from '../../support/session.ts';
import { contentOf } from '../../support/snapshot.ts';

const config = testConfig();

/** Readings of an R-410A unit whose superheat is that many kelvins. */
function content(superheat: number, state: SteadinessState = 'settled') {
  const values: [ChannelKey, number][] = [
    ['suctionPressure', 920_000],
    ['liquidPressure', 2_500_000],
    ['suctionLineTemp', 277.7 + superheat],
    ['liquidLineTemp', 308],
    ['outdoorAirTemp', 305],
    ['returnAirTemp', 297],
  ];
  return contentOf(new Map(values), config, state);
}

function snapshot(
  id: string,
  unit: string,
  superheat: number,
  more: Partial<SnapshotRecord> = {},
): SnapshotRecord {
  return {
    id,
    sessionId: 'session-1',
    unit,
    takenAt: '2026-03-01T10:00:00Z',
    label: id,
    note: '',
    author: '',
    sourceKind: 'radio',
    programVersion: '0',
    config,
    content: content(superheat),
    sampleCount: 0,
    sampleHash: '',
    ...more,
  };
}

const JOB: JobView = {
  file: 'today.stillpoint',
  head: testHead(),
  units: [],
  sessions: [{ ...testSession(), samples: 0, duration_s: 0, unfinished: false }],
  snapshots: [
    snapshot('morning', 'A', 5),
    snapshot('moving', 'A', 20, { content: content(20, 'moving') }),
    snapshot('other valve', 'A', 5, { config: testConfig({ metering: 'fixed' }) }),
    snapshot('twin', 'B', 7),
  ],
  findings: [],
  notes: [],
  answers: [],
  reviews: [],
  log: [],
};
const EARLIER = [{ file: 'may.stillpoint', title: 'May', snapshot: snapshot('last year', 'A', 6) }];
const of = { unit: 'A', config, except: null };

describe('what readings are held against', () => {
  it('offers the unit at rest at other times, of this job and of earlier visits', () => {
    expect(ownReferences(of, JOB, EARLIER).map((r) => r.id)).toEqual(['morning', 'last year']);
    const except = { ...of, except: 'morning' };
    expect(ownReferences(except, JOB, []).map((r) => r.id)).toEqual([]);
    const [morning] = ownReferences(of, JOB, []);
    const origin = Date.parse(testSession().origin) / 1000;
    expect(morning?.takenAt).toBe(origin + content(5).window.to);
  });

  it('offers like units of the job', () => {
    expect(otherReferences(of, JOB, null).map((r) => r.id)).toEqual(['twin']);
    const heating = { unit: 'A', config: testConfig({ mode: 'heating' }) };
    expect(otherReferences(heating, JOB, null)).toEqual([]);
  });

  it('expects what the own healthy visit says, then the maker, then the rules', () => {
    const unit = testUnit({ maker: { superheat: { value: 9, u: 1 } } });
    const references = [...ownReferences(of, JOB, EARLIER), ...otherReferences(of, JOB, null)];
    const read = snapshot('now', 'A', 12);
    const judged = {
      config,
      state: null,
      pattern: null,
      stood: null,
      snapshot: read,
      session: read.sessionId,
    };
    const expected = (part: Partial<Answers>, maker = true) => {
      const asked = { ...NO_ANSWERS, ...part };
      const known = maker ? unit : testUnit();
      const input = inputFor(judged, asked, known, [], references);
      if (input === null) throw new Error('nothing to judge');
      const { superheat } = expectationsFor(input, conditionsOf(input.content, config), []);
      return superheat?.source;
    };
    expect(expected({ baseline: 'last year', twin: 'twin' })).toBe('baseline');
    // A like unit may be the faulty one: it is compared, and expects nothing of this one.
    expect(expected({ twin: 'twin' })).toBe('maker');
    expect(expected({})).toBe('maker');
    expect(expected({}, false)).toBe('rule');
    // A reference that is gone counts for nothing.
    expect(expected({ baseline: 'moving' })).toBe('maker');
  });

  it('takes typed readings for still only in the session of which a person said so', () => {
    const typed = testConfig({ marks: ['typedByHand'] });
    const read = snapshot('typed', 'A', 12, {
      config: typed,
      content: content(12, 'moving'),
    });
    const stateIn = (session: string) => {
      const judged = {
        config: typed,
        state: null,
        pattern: null,
        stood: null,
        snapshot: read,
        session,
      };
      const asked = { ...NO_ANSWERS, stoodStill: 'morning' };
      return inputFor(judged, asked, testUnit(), [], [])?.content.state;
    };
    expect(stateIn('morning')).toBe('settled');
    expect(stateIn('afternoon')).toBe('moving');
  });

  it('leaves out a check or an outcome that this version does not know', () => {
    const known = { check: 'filterStatic', outcome: 'restricted' };
    const outcomes = [known, { check: 'seance', outcome: 'a knock' }, { ...known, outcome: 'odd' }];
    expect(knownOutcomes(outcomes)).toEqual([known]);
  });
});

import r410a from './data/R-410A.json' with { type: 'json' };
import r32 from './data/R-32.json' with { type: 'json' };
import r454b from './data/R-454B.json' with { type: 'json' };
import r22 from './data/R-22.json' with { type: 'json' };
import r407c from './data/R-407C.json' with { type: 'json' };
import r134a from './data/R-134a.json' with { type: 'json' };
import r404a from './data/R-404A.json' with { type: 'json' };
import r448a from './data/R-448A.json' with { type: 'json' };
import r449a from './data/R-449A.json' with { type: 'json' };
import r452b from './data/R-452B.json' with { type: 'json' };
import r513a from './data/R-513A.json' with { type: 'json' };
import r290 from './data/R-290.json' with { type: 'json' };
import r1234yf from './data/R-1234yf.json' with { type: 'json' };
import type { RefrigerantId } from './types.ts';

/** The generated files as they lie on disk; `refrigerants.ts` checks each before it is used. */
export const REFRIGERANT_FILES: Readonly<Record<RefrigerantId, unknown>> = {
  'R-410A': r410a,
  'R-32': r32,
  'R-454B': r454b,
  'R-22': r22,
  'R-407C': r407c,
  'R-134a': r134a,
  'R-404A': r404a,
  'R-448A': r448a,
  'R-449A': r449a,
  'R-452B': r452b,
  'R-513A': r513a,
  'R-290': r290,
  'R-1234yf': r1234yf,
};

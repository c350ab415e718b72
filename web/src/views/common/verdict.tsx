// The outcome of a check: a sign and a word, and only then a colour.

import { t } from '../../show.ts'

export type Outcome = 'passes' | 'fails' | 'not proven' | 'shown'

const states: Record<Outcome, { sign: string; state: string }> = {
  passes: { sign: '✓', state: 'met' },
  fails: { sign: '✗', state: 'not_met' },
  'not proven': { sign: '?', state: 'not_proven' },
  shown: { sign: '·', state: 'shown' },
}

export function Verdict({ of }: { of: Outcome }) {
  const s = states[of]
  return (
    <span class={`verdict state-${s.state}`}>
      <span aria-hidden="true">{s.sign}</span> {t(`verdict.${of}`)}
    </span>
  )
}

// The gravest of some outcomes, as the proofs rank them.
export function worst(list: readonly Outcome[]): Outcome | null {
  for (const o of ['fails', 'not proven', 'passes', 'shown'] as const) if (list.includes(o)) return o
  return null
}

export const gravity = (o: Outcome | null) => (o === null ? 4 : ['fails', 'not proven', 'passes', 'shown'].indexOf(o))


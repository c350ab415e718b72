// How far it is shown that a build-up does what is asked: a sign and a word.

import { t } from '../../show.ts'
import type { Standing } from './types.ts'

const signs: Record<Standing, { sign: string; state: string }> = {
  proven: { sign: '✓', state: 'met' },
  expected: { sign: '~', state: 'not_proven' },
  unknown: { sign: '?', state: 'not_proven' },
  fails: { sign: '✗', state: 'not_met' },
}

export function StandingMark({ of }: { of: Standing }) {
  return (
    <span class={`verdict state-${signs[of].state}`}>
      <span aria-hidden="true">{signs[of].sign}</span> {t(`standing.${of}`)}
    </span>
  )
}

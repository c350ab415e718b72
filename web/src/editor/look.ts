// How walls are shaded and labelled for what is shown: nothing, the gravest of all
// checks, or one need.

import { computed } from '@preact/signals'
import type { NeedState, ProofState, WallBrief } from '../api.ts'
import { language, units } from '../preferences.ts'
import { area, t, word } from '../show.ts'
import { roomArea } from '../geometry/rooms.ts'
import type { Look, Shade } from './paint.ts'
import { shadeOf } from './paint.ts'
import type { SceneWall } from './scene.ts'
import { show } from './session.ts'
import type { Theme } from './theme.ts'

// Everything besides the scene on which a look depends.
export const lookInputs = computed(() => [show.value, language.value, units.value])

export function lookOf(theme: Theme): Look {
  return {
    theme,
    metric: units.peek() === 'metric',
    shade: (w) => shadeNow(w),
    label: (w) => labelNow(w),
    roomLabel: (r) => [r.name || word('use', r.use ?? '') || r.id, area(roomArea(r))],
  }
}

function shadeNow(w: SceneWall): Shade {
  if (show.peek() === 'plan') return 'plain'
  if (show.peek() === 'all') return shadeOf(w.brief?.status.proof ?? '')
  const need = needOf(w.brief, show.peek())
  return need ? shadeOf(stateOf(need)) : 'not_asked'
}

// The server's verdicts of a check, as states of a wall.
export const stateOf = (n: NeedState): ProofState => ({ passes: 'met', fails: 'not_met', 'not proven': 'not_proven', shown: 'not_asked' })[n.verdict] as ProofState

const needOf = (b: WallBrief | null, need: string) => b?.status.needs?.find((n) => n.need === need)

// What is asked and what was found, or of all checks the ones that are not met.
function labelNow(w: SceneWall): string {
  const now = show.peek()
  if (now === 'plan' || !w.brief) return ''
  const all = w.brief.status.needs ?? []
  const wanted = now === 'all' ? all.filter((n) => n.verdict === 'fails') : all.filter((n) => n.need === now)
  if (wanted.length === 0) return now === 'all' ? t(`plan.state.${w.brief.status.proof || 'not_asked'}`) : t('plan.state.not_asked')
  return wanted.map(short).join(', ')
}

// On the drawing: what was found and what is asked, as 'Rw 47 dB, Rw 50 asked'.
const short = (n: NeedState) => [n.got?.startsWith('missing') ? t(`plan.state.${stateOf(n)}`) : n.got, n.asked && t('plan.asked', { asked: n.asked })].filter(Boolean).join(', ')

// Such as "Fire, EI 60 asked: no recorded document gives EI 60 or better".
export function told(n: NeedState): string {
  const asked = n.asked ? t('plan.asked', { asked: n.asked }) : ''
  return `${[word('need', n.need), asked].filter(Boolean).join(', ')}: ${(n.got ?? t(`plan.state.${stateOf(n)}`)).replace(/^missing: /, '')}`
}

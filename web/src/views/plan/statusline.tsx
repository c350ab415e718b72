// The line beneath the drawing: what to do next, where the pen is, and the field
// for typed lengths and angles.

import { angleOf, direction, distance } from '../../geometry/vec.ts'
import { drawing, lastSnap, show, tool } from '../../editor/session.ts'
import { target, upcoming } from '../../editor/draw.ts'
import { placeTypedOpening, step } from '../../editor/tools.ts'
import { lineLength } from '../../editor/overlaystate.ts'
import { units } from '../../preferences.ts'
import { length, lengthUnit, number, t } from '../../show.ts'

export function StatusLine() {
  const d = drawing.value
  const drawsPoints = tool.value === 'wall' || tool.value === 'structure'
  const last = d.chain.at(-1)
  const to = target(d, units.value) ?? d.pen
  const line = upcoming(d, units.value)
  return (
    <div class="statusline">
      <span class="status-hint" title={t(hint())}>{t(hint())}</span>
      {(drawsPoints || tool.value === 'opening') && <Typed />}
      {drawsPoints && (
        <span class="status-pen">
          {line?.via ? lineLength(line) : last && !d.end ? t('plan.pen.from', { length: lengthUnit(distance(last, to)), angle: number(angleOf(direction(last, to)), 1) }) : t('plan.pen', { x: length(d.pen[0]), y: length(d.pen[1]) })}
          {lastSnap.value && lastSnap.value.kind !== 'none' && <em> {t(`snap.kind.${lastSnap.value.kind}`)}</em>}
        </span>
      )}
      {show.value !== 'plan' && <Legend />}
    </div>
  )
}

function hint(): string {
  const n = drawing.value.chain.length
  if (drawing.value.end) return 'hint.bend'
  if (tool.value === 'wall' || tool.value === 'structure') return n === 0 ? 'hint.first' : 'hint.next'
  return `hint.${tool.value}`
}

function Typed() {
  const enter = (e: KeyboardEvent) => {
    if (e.key === 'Enter') {
      e.preventDefault()
      if (tool.value === 'opening') placeTypedOpening()
      else step({ type: 'place' })
    } else if (e.key === 'Escape') step({ type: 'stop' })
  }
  return (
    <label class="typed">
      <span>{t(tool.value === 'opening' ? 'opening.from' : drawing.value.end ? 'plan.typed.bend' : 'plan.typed')}</span>
      <input value={drawing.value.typed} placeholder={placeholder()} onInput={(e) => step({ type: 'typed', text: (e.currentTarget as HTMLInputElement).value })} onKeyDown={enter} />
    </label>
  )
}

function placeholder(): string {
  const metric = units.value === 'metric'
  if (drawing.value.end) return metric ? '600 / r 3000' : `2'-0" / r 10'`
  return metric ? '2500 < 90' : `8'-2" < 90`
}

function Legend() {
  return (
    <ul class="legend" aria-label={t('plan.legend')}>
      {(['met', 'not_met', 'not_proven', 'not_asked'] as const).map((s) => (
        <li>
          <i class={`swatch swatch-${s}`} aria-hidden="true" /> {t(`plan.state.${s}`)}
        </li>
      ))}
    </ul>
  )
}

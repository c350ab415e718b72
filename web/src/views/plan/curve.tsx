// How a wall is bent: by its rise or its radius, or made straight again.

import type { Wall } from '../../core/plan.ts'
import { bendWalls } from '../../editor/commands.ts'
import { run, say } from '../../editor/session.ts'
import { arcOf, riseFor, riseOf } from '../../geometry/arc.ts'
import { distance } from '../../geometry/vec.ts'
import { notice, plan } from '../../state.ts'
import { lengthUnit, t } from '../../show.ts'
import { LengthField } from './fields.tsx'

export function Curve({ wall }: { wall: Wall }) {
  const p = plan.value
  if (!p) return null
  const arc = arcOf(wall)
  const rise = riseOf(wall)
  const chord = distance(...wall.line)
  const bend = (to: number) => run(bendWalls(p, say, [wall.id], to))
  const toRadius = (radius: number) => {
    const to = riseFor(chord, Math.abs(radius), Math.abs(rise) > chord / 2)
    if (to === null) notice.value = { text: t('plan.radius.least', { radius: lengthUnit(chord / 2) }), kind: 'error' }
    else bend(to * (rise < 0 !== radius < 0 ? -1 : 1))
  }
  return (
    <fieldset class="inline">
      <legend>{t('walls.bend')}</legend>
      <LengthField label={t('walls.rise')} value={rise === 0 ? undefined : rise} hint="0" onChange={(v) => bend(v ?? 0)} />
      <LengthField label={t('walls.radius')} value={arc?.radius} hint={t('walls.straight')} onChange={(v) => (v ? toRadius(v) : bend(0))} />
      {arc && (
        <div class="buttons">
          <button onClick={() => bend(0)}>{t('do.straighten')}</button>
        </div>
      )}
    </fieldset>
  )
}

// The lines of wall layers that belong to no wall, to make walls of two of them
// without a pointer.

import { useState } from 'preact/hooks'
import type { Segment } from '../../geometry/vec.ts'
import { distance } from '../../geometry/vec.ts'
import { lengthUnit, t } from '../../show.ts'
import { join } from './hand.ts'
import { camera, firstLine } from './session.ts'
import type { Reading } from './types.ts'

const most = 100

export function LeftOver({ of: r }: { of: Reading }) {
  const [chosen, setChosen] = useState<readonly number[]>([])
  const lines = r.stats.left_over.map((l) => [l.from, l.to] as Segment)
  const order = lines.map((_, i) => i).sort((a, b) => distance(...(lines[b] as Segment)) - distance(...(lines[a] as Segment)))
  const toggle = (i: number) => {
    setChosen((c) => (c.includes(i) ? c.filter((k) => k !== i) : [...c.slice(-1), i]))
    const s = lines[i] as Segment
    firstLine.value = s
    camera.value = { ...camera.value, at: [(s[0][0] + s[1][0]) / 2, (s[0][1] + s[1][1]) / 2] }
  }
  const make = () => {
    const [a, b] = chosen.map((i) => lines[i])
    if (a && b && join(a, b)) setChosen([])
    firstLine.value = null
  }
  return (
    <fieldset class="read-left">
      <legend>{t('drawing.left', { n: lines.length })}</legend>
      <div class="read-left-rows">
        {order.slice(0, most).map((i) => (
          <label class="entry tick" key={i}>
            <input type="checkbox" checked={chosen.includes(i)} onChange={() => toggle(i)} />
            <span>{t('drawing.left.line', { n: i + 1, length: lengthUnit(Math.round(distance(...(lines[i] as Segment)))) })}</span>
          </label>
        ))}
      </div>
      <button disabled={chosen.length !== 2} onClick={make}>
        {t('drawing.left.make')}
      </button>
    </fieldset>
  )
}

// Two revisions of a level on one plan. What is new, gone or changed differs in line,
// sign and word, not in colour alone.

import { useState } from 'preact/hooks'
import type { Plan, Wall } from '../../core/plan.ts'
import { t } from '../../show.ts'
import type { Became, Variation } from './types.ts'

const signs: Record<Became, string> = { added: '+', removed: '−', changed: '~', affected: '·' }
const kinds = ['added', 'removed', 'changed', 'affected'] as const

interface Props {
  before: Plan
  after: Plan
  of: Variation
  picked: string | null
  onPick: (wall: string) => void
}

export function PlanPicture({ before, after, of, picked, onPick }: Props) {
  const became = new Map((of.walls ?? []).map((w) => [w.wall, w.kind] as const))
  const levels = [...new Set([...after.levels, ...before.levels].map((l) => l.id))]
  const first = of.walls?.[0]?.level ?? levels[0] ?? ''
  const [level, setLevel] = useState(first)
  const there = after.walls.filter((w) => w.level === level)
  const gone = before.walls.filter((w) => w.level === level && became.get(w.id) === 'removed')
  const all = [...there, ...gone]
  if (all.length === 0 && levels.length < 2) return null
  const box = boxOf([...all, ...before.walls.filter((w) => w.level === level)])
  return (
    <figure class="plan-picture">
      <figcaption>
        <select aria-label={t('solid.level')} value={level} onChange={(e) => setLevel(e.currentTarget.value)}>
          {levels.map((l) => <option value={l}>{after.levels.find((x) => x.id === l)?.name || l}</option>)}
        </select>
        <ul class="key">
          {kinds.map((k) => (
            <li>
              <svg viewBox="0 0 34 12" aria-hidden="true"><line class={`became ${k}`} x1="2" y1="6" x2="32" y2="6" /></svg>
              {signs[k]} {t(`became.${k}`)}
            </li>
          ))}
        </ul>
      </figcaption>
      <svg class="plan-changes" viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`} role="img" aria-label={t('changes.onplan')}>
        {there.map((w) => <WallLine w={w} became={became.get(w.id)} picked={w.id === picked} onPick={onPick} />)}
        {gone.map((w) => <WallLine w={w} became="removed" picked={w.id === picked} onPick={onPick} />)}
        {all.filter((w) => became.has(w.id) && became.get(w.id) !== 'affected').map((w) => <Sign w={w} became={became.get(w.id) ?? 'changed'} size={Math.max(box.width, box.height) / 48} />)}
      </svg>
    </figure>
  )
}

// The plan's y runs up, the picture's down.
function pathOf(w: Wall): string {
  const [[x0, y0], [x1, y1]] = w.line
  if (!w.via) return `M${x0} ${-y0}L${x1} ${-y1}`
  // A quadratic curve through the third point, at half way: near enough for a picture.
  const [cx, cy] = [2 * w.via[0] - (x0 + x1) / 2, 2 * w.via[1] - (y0 + y1) / 2]
  return `M${x0} ${-y0}Q${cx} ${-cy} ${x1} ${-y1}`
}

function WallLine({ w, became, picked, onPick }: { w: Wall; became: Became | undefined; picked: boolean; onPick: (wall: string) => void }) {
  return <path class={`became ${became ?? 'same'} ${picked ? 'picked' : ''}`} d={pathOf(w)} onClick={() => onPick(w.id)} />
}

function Sign({ w, became, size }: { w: Wall; became: Became; size: number }) {
  const [[x0, y0], [x1, y1]] = w.line
  const [x, y] = w.via ?? [(x0 + x1) / 2, (y0 + y1) / 2]
  return (
    <text class={`sign ${became}`} x={x} y={-y} font-size={size} text-anchor="middle" dominant-baseline="central">
      {signs[became]} {w.id}
    </text>
  )
}

function boxOf(walls: readonly Wall[]) {
  const xs = walls.flatMap((w) => [w.line[0][0], w.line[1][0]])
  const ys = walls.flatMap((w) => [-w.line[0][1], -w.line[1][1]])
  const [x, y] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - x, Math.max(...ys) - y]
  const air = Math.max(width, height, 1000) * 0.05
  return { x: x - air, y: y - air, width: width + 2 * air, height: height + 2 * air }
}

// Which wall is looked at: a list by level, and one on or back.

import { plan, project } from '../../state.ts'
import { refine } from '../../route.ts'
import { t } from '../../show.ts'

export function WallChooser({ wall }: { wall: string }) {
  const p = plan.value
  if (!p || !project.value) return null
  const order = p.levels.flatMap((l) => p.walls.filter((w) => w.level === l.id))
  const at = order.findIndex((w) => w.id === wall)
  const step = (by: number) => {
    const to = order[(at + by + order.length) % order.length]
    if (to) look(to.id)
  }
  return (
    <div class="wall-chooser">
      <button onClick={() => step(-1)} aria-label={t('wall.before')} title={t('wall.before')}>‹</button>
      <select aria-label={t('wall.which')} value={wall} onChange={(e) => look(e.currentTarget.value)}>
        {p.levels.map((l) => (
          <optgroup label={l.name || l.id}>
            {p.walls.filter((w) => w.level === l.id).map((w) => (
              <option value={w.id}>{w.id}{w.buildup ? ` · ${w.buildup}` : ''}</option>
            ))}
          </optgroup>
        ))}
      </select>
      <button onClick={() => step(1)} aria-label={t('wall.after')} title={t('wall.after')}>›</button>
    </div>
  )
}

export function look(wall: string): void {
  refine({ wall, level: plan.value?.walls.find((w) => w.id === wall)?.level, part: undefined })
}

// The place "3-D": a whole level in space; a part picked tells what it is, as in the
// wall's own place.

import { href, refine, route } from '../../route.ts'
import { plan, project } from '../../state.ts'
import { t } from '../../show.ts'
import { lazy } from '../common/later.tsx'
import { useLoaded } from '../common/load.ts'
import { Detail } from '../wall/detail.tsx'
import type { WallView } from '../wall/types.ts'

const Stage = lazy(() => import('./stage.tsx'))

export default function SolidPlace() {
  const q = route.value.query
  const levels = plan.value?.levels ?? []
  const level = levels.find((l) => l.id === q.level)?.id ?? levels[0]?.id
  const all = q.scope === 'all'
  const picked = q.wall && q.part ? { wall: q.wall, part: q.part } : null
  const wall = useLoaded<WallView>(picked ? `walls/${encodeURIComponent(picked.wall)}` : null)
  const part = wall.value?.parts.find((p) => p.id === picked?.part) ?? null
  if (level === undefined) return <p class="padded quiet">{t('wall.none')}</p>
  return (
    <div class="wall-place">
      <header class="place-head">
        <h1>{t('solid.title')}</h1>
        <select aria-label={t('solid.level')} value={all ? '' : level} onChange={(e) => show(e.currentTarget.value)}>
          {levels.map((l) => <option value={l.id}>{l.name || l.id}</option>)}
          {levels.length > 1 && <option value="">{t('solid.project')}</option>}
        </select>
        <p class="facts"><span class="quiet">{t('solid.keys')}</span></p>
      </header>
      <div class="wall-body solid-body">
        <Stage key={all ? 'all' : level} scope={all ? {} : { level }} picked={picked} onPick={(at) => refine({ wall: at?.wall, part: at?.part })} instead={<Instead level={level} />} />
        <aside class="beside" aria-label={t('wall.part')}>
          {picked && (
            <p class="padded">
              {t('wall.title', { wall: picked.wall })} · <a href={href(project.value?.id ?? null, 'wall', { wall: picked.wall, level, part: picked.part })}>{t('solid.open')}</a>
            </p>
          )}
          <Detail part={part} />
        </aside>
      </div>
    </div>
  )
}

// Shows a level, or with none the whole project.
function show(level: string): void {
  refine(level === '' ? { scope: 'all', wall: undefined, part: undefined } : { level, scope: undefined, wall: undefined, part: undefined })
}

// Without WebGL the walls of the level are at least within reach.
function Instead({ level }: { level: string }) {
  return (
    <ul class="padded">
      {plan.value?.walls.filter((w) => w.level === level).map((w) => (
        <li><a href={href(project.value?.id ?? null, 'wall', { wall: w.id, level })}>{t('wall.title', { wall: w.id })}</a></li>
      ))}
    </ul>
  )
}

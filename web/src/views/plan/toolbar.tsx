// The row above the drawing: level, tools, what is shown, and how points snap.

import { useState } from 'preact/hooks'
import { letters } from '../../editor/keys.ts'
import { camera, fit, level, several, show, shows, size, snapping, tool, tools, use } from '../../editor/session.ts'
import { zoomed } from '../../editor/camera.ts'
import { plan } from '../../state.ts'
import { refine } from '../../route.ts'
import { t } from '../../show.ts'
import { LevelsDialog } from './levelpanel.tsx'

const letterOf = (name: string) => Object.entries(letters).find(([, v]) => v === name)?.[0]?.toUpperCase()

export function Toolbar() {
  const [levels, setLevels] = useState(false)
  return (
    <div class="toolbar">
      <label class="toolbar-level">
        <span class="hidden-text">{t('plan.level')}</span>
        <select value={level.value} onChange={(e) => refine({ level: (e.currentTarget as HTMLSelectElement).value, wall: undefined })}>
          {plan.value?.levels.map((l) => (
            <option value={l.id}>
              {l.id} {l.name}
            </option>
          ))}
        </select>
      </label>
      <button onClick={() => setLevels(true)}>{t('levels.open')}</button>
      <div class="tools" role="group" aria-label={t('plan.tools')}>
        {tools.map((name) => (
          <button aria-pressed={tool.value === name} onClick={() => use(name)} title={`${t(`tool.${name}.title`)} (${letterOf(name)})`}>
            {t(`tool.${name}`)}
          </button>
        ))}
      </div>
      <label class="toolbar-show">
        <span>{t('plan.show')}</span>
        <select value={show.value} onChange={(e) => (show.value = (e.currentTarget as HTMLSelectElement).value as typeof show.value)}>
          {shows.map((s) => (
            <option value={s}>{t(`show.${s}`)}</option>
          ))}
        </select>
      </label>
      {levels && <LevelsDialog onClose={() => setLevels(false)} />}
    </div>
  )
}

// In the corner of the drawing: zoom, and how points snap.
export function Corner() {
  const zoom = (k: number) => (camera.value = zoomed(camera.value, size.value, [size.value.width / 2, size.value.height / 2], k))
  const s = snapping.value
  return (
    <div class="corner">
      <div role="group" aria-label={t('snap.title')}>
        {(['lines', 'angles', 'grid'] as const).map((k) => (
          <button aria-pressed={s[k]} onClick={() => (snapping.value = { ...s, [k]: !s[k] })} title={t(`snap.${k}.what`)}>
            {t(`snap.${k}`)}
          </button>
        ))}
        <button aria-pressed={several.value} onClick={() => (several.value = !several.value)} title={t('plan.several.what')}>
          {t('plan.several')}
        </button>
      </div>
      <div role="group" aria-label={t('plan.zoom')}>
        <button onClick={() => zoom(0.8)} aria-label={t('plan.zoom.out')}>−</button>
        <button onClick={() => fit()}>{t('plan.zoom.fit')}</button>
        <button onClick={() => zoom(1.25)} aria-label={t('plan.zoom.in')}>+</button>
      </div>
    </div>
  )
}

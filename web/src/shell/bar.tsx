// The bar at the top: the project and its places, undo and redo, whether edits
// reach the server, and how things are shown.

import { useEffect, useState } from 'preact/hooks'
import { places } from '../views/registry.ts'
import { href, route } from '../route.ts'
import { project, reckoning } from '../state.ts'
import { pace, redo, stepping, undo } from '../sync.ts'
import { t } from '../show.ts'
import { Display } from './display.tsx'

export function Bar() {
  const s = project.value
  return (
    <header class="bar" data-stored={pace.value.stored} data-laid={pace.value.laid} data-result={pace.value.result} data-totals={pace.value.totals}>
      <a class="home" href={href(null)} title={t('shell.all')}>
        nogging
      </a>
      {s && (
        <>
          <span class="bar-project" title={s.name}>
            {s.name || t('list.unnamed')}
          </span>
          <nav class="places" aria-label={t('shell.places')}>
            {places.map((p) => (
              <a href={href(s.id, p.id, keptQuery())} aria-current={route.value.place === p.id ? 'page' : undefined}>
                {t(p.name)}
              </a>
            ))}
          </nav>
          <div class="bar-end">
            <LinkState />
            <button onClick={() => void undo()} disabled={!s.canUndo && s.waiting.length === 0} aria-keyshortcuts="Control+Z" title={`${t('shell.undo')} (Ctrl Z)`}>
              {t('shell.undo')}
            </button>
            <button onClick={() => void redo()} disabled={!s.canRedo} aria-keyshortcuts="Control+Y" title={`${t('shell.redo')} (Ctrl Y)`}>
              {t('shell.redo')}
            </button>
          </div>
        </>
      )}
      {!s && <span class="bar-project" />}
      <Display />
    </header>
  )
}

// Level and wall stay chosen from place to place.
function keptQuery() {
  const { level, wall } = route.value.query
  return { level, wall }
}

function LinkState() {
  const s = project.value
  if (!s) return null
  const n = s.waiting.length
  if (s.link === 'lost') return <span class="link lost" role="alert">{n > 0 ? t('shell.lost.waiting', { n }) : t('shell.lost')}</span>
  return (
    <span class="link">
      {n > 0 || stepping.value > 0 ? t('shell.saving') : t('shell.saved', { n: s.revision })}
      <Reckoned />
    </span>
  )
}

// What of the newest revision is not reckoned yet, once that takes a moment.
function Reckoned() {
  const what = reckoning.value
  const [late, setLate] = useState(false)
  useEffect(() => {
    setLate(false)
    if (!what) return
    const due = setTimeout(() => setLate(true), 400)
    return () => clearTimeout(due)
  }, [what === null])
  return <small class="reckoned" role="status">{what && late ? t(`shell.reckoning.${what}`) : ''}</small>
}

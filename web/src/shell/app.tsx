// The frame round every place: the bar at the top, the place itself, messages.

import { effect } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { dark, language } from '../preferences.ts'
import { route } from '../route.ts'
import { notice, project } from '../state.ts'
import { close, failed, open } from '../sync.ts'
import { t } from '../show.ts'
import { Bar } from './bar.tsx'
import { ConflictDialog, RefusedDialog } from './conflict.tsx'
import { Login, locked } from './login.tsx'
import { drawing } from '../views/registry.ts'
import { Place } from './place.tsx'
import { ProjectList } from './list.tsx'

effect(() => {
  document.documentElement.lang = language.value
  document.documentElement.dataset.appearance = dark.value ? 'dark' : 'light'
})

// Opens the project that the address names; the list has none.
let opening: string | null = null
effect(() => {
  const id = route.value.project
  if (id === opening) return
  opening = id
  if (id === null) close()
  else void open(id).catch(failed)
})

effect(() => {
  document.title = project.value ? `${project.value.name || t('list.unnamed')} – nogging` : 'nogging'
})

export function App() {
  useEffect(() => {
    const ask = (e: BeforeUnloadEvent) => {
      if (project.value?.link === 'lost' && project.value.waiting.length > 0) e.preventDefault()
    }
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [])
  if (locked.value) return <Login />
  return (
    <>
      <Bar />
      {route.value.project === null && route.value.place !== drawing.id ? <ProjectList /> : <Place />}
      <Notice />
      <ConflictDialog />
      <RefusedDialog />
    </>
  )
}

function Notice() {
  const n = notice.value
  useEffect(() => {
    if (!n || n.kind === 'error') return
    const gone = setTimeout(() => (notice.value = null), 4000)
    return () => clearTimeout(gone)
  }, [n])
  return (
    <div class="notice-place" role="status" aria-live="polite">
      {n && (
        <div class={`notice ${n.kind}`}>
          <span>{n.text}</span>
          <button class="plain" onClick={() => (notice.value = null)}>
            {t('shell.dismiss')}
          </button>
        </div>
      )}
    </div>
  )
}

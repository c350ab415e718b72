// Shows the place of a project that the address names, loading its code first.

import { useEffect, useState } from 'preact/hooks'
import type { ComponentType } from 'preact'
import { drawing, places } from '../views/registry.ts'
import { failed } from '../sync.ts'
import { route } from '../route.ts'
import { project } from '../state.ts'
import { t } from '../show.ts'

const loaded = new Map<string, ComponentType>()

export function Place() {
  const all = [...places, drawing]
  const id = all.some((p) => p.id === route.value.place) ? route.value.place : 'plan'
  const [, redraw] = useState(0)
  useEffect(() => {
    if (loaded.has(id)) return
    all
      .find((p) => p.id === id)
      ?.load()
      .then((m) => {
        loaded.set(id, m.default)
        redraw((n) => n + 1)
      }, failed)
  }, [id])
  const View = loaded.get(id)
  const missing = route.value.project !== null && !project.value
  if (!View || missing) return <main class="waiting" aria-busy="true">{t(missing ? 'shell.opening' : 'shell.fetching')}</main>
  return (
    <main class={`place place-${id}`}>
      <View />
    </main>
  )
}

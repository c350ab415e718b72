// Shows the place of a project that the address names, loading its code first.

import { useEffect, useState } from 'preact/hooks'
import type { ComponentType } from 'preact'
import { places } from '../views/registry.ts'
import { failed } from '../sync.ts'
import { route } from '../route.ts'
import { project } from '../state.ts'
import { t } from '../show.ts'

const loaded = new Map<string, ComponentType>()

export function Place() {
  const id = places.some((p) => p.id === route.value.place) ? route.value.place : 'plan'
  const [, redraw] = useState(0)
  useEffect(() => {
    if (loaded.has(id)) return
    places
      .find((p) => p.id === id)
      ?.load()
      .then((m) => {
        loaded.set(id, m.default)
        redraw((n) => n + 1)
      }, failed)
  }, [id])
  const View = loaded.get(id)
  if (!View || !project.value) return <main class="waiting" aria-busy="true">{t('shell.loading')}</main>
  return (
    <main class={`place place-${id}`}>
      <View />
    </main>
  )
}

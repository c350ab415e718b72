// The places within a project, in the order in which the bar shows them. Each
// view is a module of its own, loaded when it is first looked at.

import type { ComponentType } from 'preact'

export interface PlaceEntry {
  id: string
  name: string // key of its text
  load: () => Promise<{ default: ComponentType }>
}

export const places: PlaceEntry[] = [{ id: 'plan', name: 'shell.place.plan', load: () => import('./plan/view.tsx') }]

// The places within a project, in the order in which the bar shows them. Each
// view is a module of its own, loaded when it is first looked at.

import type { ComponentType } from 'preact'

export interface PlaceEntry {
  id: string
  name: string // key of its text
  load: () => Promise<{ default: ComponentType }>
}

export const places: PlaceEntry[] = [
  { id: 'plan', name: 'shell.place.plan', load: () => import('./plan/view.tsx') },
  { id: 'wall', name: 'shell.place.wall', load: () => import('./wall/view.tsx') },
  { id: 'solid', name: 'shell.place.solid', load: () => import('./solid/view.tsx') },
  { id: 'proof', name: 'shell.place.proof', load: () => import('./proof/view.tsx') },
  { id: 'material', name: 'shell.place.material', load: () => import('./material/view.tsx') },
  { id: 'programme', name: 'shell.place.programme', load: () => import('./programme/view.tsx') },
  { id: 'changes', name: 'shell.place.changes', load: () => import('./changes/view.tsx') },
  { id: 'print', name: 'shell.place.print', load: () => import('./print/view.tsx') },
]

// A drawing that is being taken in, into a project or as one: the bar does not show it.
export const drawing: PlaceEntry = { id: 'drawing', name: 'drawing.side', load: () => import('./drawing/view.tsx') }

// Edits that the server has not answered, kept in the browser per project and
// tab. A tab holds a lock under its own name; what a tab that is gone left
// behind is taken over by the next one that opens the project.

import { client } from './api.ts'
import type { Waiting } from './core/project.ts'

const key = (project: string, tab: string) => `nogging.waiting.${project}.${tab}`

if (typeof navigator !== 'undefined' && navigator.locks) {
  void navigator.locks.request(`nogging.tab.${client}`, () => new Promise(() => undefined))
}

export function keep(project: string, waiting: readonly Waiting[]): void {
  if (waiting.length === 0) localStorage.removeItem(key(project, client))
  else localStorage.setItem(key(project, client), JSON.stringify(waiting))
}

// The edits left over of this tab and of tabs that are gone, in order.
export async function left(project: string): Promise<Waiting[]> {
  const held = new Set((await navigator.locks?.query())?.held?.map((l) => l.name) ?? [])
  const found: Waiting[] = []
  for (const k of Object.keys(localStorage).filter((k) => k.startsWith(key(project, '')))) {
    const tab = k.slice(key(project, '').length)
    if (tab !== client && (held.has(`nogging.tab.${tab}`) || !navigator.locks)) continue
    found.push(...(JSON.parse(localStorage.getItem(k) ?? '[]') as Waiting[]))
    if (tab !== client) localStorage.removeItem(k)
  }
  const waiting = found.map((w, i) => ({ ...w, key: i + 1 }))
  keep(project, waiting)
  return waiting
}

// Where the person is, kept in the address after '#', so that the back button,
// bookmarks and two tabs work: #/ is the list, #/drawing
// a drawing that is no project yet, #/p/ID/PLACE?level=L0&wall=L1-07.

import { computed, signal } from '@preact/signals'

export interface Route {
  project: string | null
  place: string
  query: Record<string, string>
}

export function parseRoute(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?')
  const [head, id, place] = path.split('/')
  const project = head === 'p' && id ? decodeURIComponent(id) : null
  return { project, place: place || (head && head !== 'p' ? head : 'plan'), query: Object.fromEntries(new URLSearchParams(query)) }
}

export function href(project: string | null, place = 'plan', query: Record<string, string | undefined> = {}): string {
  if (project === null) return '#/'
  const given = Object.entries(query).filter((q): q is [string, string] => q[1] !== undefined && q[1] !== '')
  const tail = given.length > 0 ? `?${new URLSearchParams(given)}` : ''
  return `#/p/${encodeURIComponent(project)}/${place}${tail}`
}

const hash = signal(typeof location === 'undefined' ? '' : location.hash)
if (typeof addEventListener !== 'undefined') addEventListener('hashchange', () => (hash.value = location.hash))

export const route = computed(() => parseRoute(hash.value))

export function go(to: string): void {
  location.hash = to
}

// Changes the query without a step in the history, as for a selection.
export function refine(query: Record<string, string | undefined>): void {
  const r = route.value
  const to = href(r.project, r.place, { ...r.query, ...query })
  if (to === location.hash) return
  history.replaceState(null, '', to)
  hash.value = to
}

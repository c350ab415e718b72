// Loads what the server works out for the open project and keeps it in step with
// edits: after each revision that the server has worked through it is asked again,
// while what was there stays in view.

import { useEffect, useState } from 'preact/hooks'
import { ApiError, call } from '../../api.ts'
import { computedRevision, project } from '../../state.ts'

export interface Loaded<T> {
  value: T | null
  busy: boolean
  error: string
  status: number // of the error; 0 where there is none
}

const nothing = { value: null, busy: true, error: '', status: 0 }

// The value at a path below the project, such as "order"; null asks for nothing.
export function useLoaded<T>(path: string | null): Loaded<T> {
  const id = project.value?.id
  const revision = computedRevision.value
  const whole = id !== undefined && path !== null ? `projects/${encodeURIComponent(id)}/${path}` : null
  const [state, setState] = useState<Loaded<T> & { of: string | null }>({ ...nothing, of: null })
  useEffect(() => {
    if (whole === null) return
    let wanted = true
    setState((s) => (s.of === whole ? { ...s, busy: true } : { ...nothing, of: whole }))
    call<T>('GET', whole).then(
      (value) => wanted && setState({ value, busy: false, error: '', status: 0, of: whole }),
      (e: unknown) => wanted && setState((s) => ({ ...s, busy: false, ...told(e) })),
    )
    return () => {
      wanted = false
    }
  }, [whole, revision])
  return state.of === whole ? state : { ...nothing, busy: whole !== null }
}

export function told(e: unknown): { error: string; status: number } {
  return { error: e instanceof Error ? e.message : String(e), status: e instanceof ApiError ? e.status : 0 }
}

// Loads what the server works out for the open project and keeps it in step with
// edits: after each revision that the server has worked through it is asked again,
// while what was there stays in view. What takes long can be stopped, and asked for
// again.

import { useEffect, useRef, useState } from 'preact/hooks'
import { ApiError, call } from '../../api.ts'
import { language } from '../../preferences.ts'
import { computedRevision, project, work } from '../../state.ts'

export interface Loaded<T> {
  value: T | null
  busy: boolean
  error: string
  status: number // of the error; 0 where there is none
  path: string | null
  since: number // when it was asked for, as of performance.now
  stopped: boolean
  stop: () => void
  again: () => void
}

type State<T> = Pick<Loaded<T>, 'value' | 'busy' | 'error' | 'status' | 'stopped' | 'since'> & { of: string | null }

const nothing = { value: null, busy: true, error: '', status: 0, stopped: false }

// The value at a path below the project, such as "order"; null asks for nothing.
export function useLoaded<T>(path: string | null): Loaded<T> {
  const id = project.value?.id
  const revision = computedRevision.value
  const spoken = language.value // the server says texts in it
  const whole = id !== undefined && path !== null ? `projects/${encodeURIComponent(id)}/${path}` : null
  const [state, setState] = useState<State<T>>({ ...nothing, since: performance.now(), of: null })
  const [turn, setTurn] = useState(0)
  const stop = useRef<() => void>(() => undefined)
  useEffect(() => {
    if (whole === null) return
    const control = new AbortController()
    let wanted = true
    const since = performance.now()
    work.value = null
    setState((s) => (s.of === whole ? { ...s, busy: true, stopped: false, since } : { ...nothing, since, of: whole }))
    stop.current = () => {
      wanted = false
      control.abort() // the server gives up what nobody waits for
      setState((s) => ({ ...s, busy: false, stopped: true }))
    }
    call<T>('GET', whole, undefined, control.signal).then(
      (value) => wanted && setState({ value, busy: false, error: '', status: 0, stopped: false, since, of: whole }),
      (e: unknown) => wanted && setState((s) => ({ ...s, busy: false, ...told(e) })),
    )
    return () => {
      wanted = false
      control.abort()
    }
  }, [whole, revision, spoken, turn])
  const now = state.of === whole ? state : { ...nothing, since: performance.now(), busy: whole !== null }
  return { ...now, path, stop: () => stop.current(), again: () => setTurn((n) => n + 1) }
}

export function told(e: unknown): { error: string; status: number } {
  return { error: e instanceof Error ? e.message : String(e), status: e instanceof ApiError ? e.status : 0 }
}

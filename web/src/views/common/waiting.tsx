// What stands in the place of a view while the server reckons it, and where it could
// not: what is being reckoned, how far it is, for how long, and a way to stop it.

import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { Loaded } from './load.ts'
import { number, t, word } from '../../show.ts'
import { work } from '../../state.ts'

export function Loading<T>({ of, children }: { of: Loaded<T>; children: (value: T) => ComponentChildren }) {
  const waits = of.busy || of.stopped
  if (of.value === null) {
    if (of.error && !waits) return <p class="error padded" role="alert">{of.error}</p>
    return <Reckoning of={of} />
  }
  return (
    <>
      {waits && <Reckoning of={of} slim />}
      {of.error && <p class="error padded" role="alert">{of.error}</p>}
      {children(of.value)}
    </>
  )
}

const showAfter = 400 // ms: what is there sooner needs no word
const stopAfter = 1200

function Reckoning<T>({ of, slim }: { of: Loaded<T>; slim?: boolean }) {
  const passed = usePassed(of.since, of.busy)
  const what = (of.path ?? '').split(/[/?]/)[0] ?? ''
  if (of.stopped) {
    return (
      <p class={`reckoning padded ${slim ? 'slim' : ''}`} role="status">
        <span>{t(slim ? 'reckon.stopped.old' : 'reckon.stopped', { what: word('reckon.of', what) })}</span>
        <button onClick={of.again}>{t('reckon.again')}</button>
      </p>
    )
  }
  if (slim && passed < showAfter) return null
  const far = work.value
  return (
    <div class={`reckoning padded ${slim ? 'slim' : ''}`} role="status" aria-busy="true">
      <span>{t(slim ? 'reckon.anew' : 'reckon.first', { what: word('reckon.of', what) })}</span>
      {passed >= showAfter && (far && far.total > 0 ? <progress max={far.total} value={far.done} aria-label={word('reckon.work', far.work)} /> : <progress aria-label={t('reckon.unknown')} />)}
      {passed >= showAfter && far && <span class="quiet">{word('reckon.work', far.work)} {number(far.done)}/{number(far.total)}</span>}
      {passed >= stopAfter && <span class="quiet" aria-hidden="true">{t('reckon.seconds', { n: number(Math.round(passed / 1000)) })}</span>}
      {passed >= stopAfter && <button onClick={of.stop}>{t('reckon.stop')}</button>}
    </div>
  )
}

// How long it has been so far, in ms.
function usePassed(since: number, busy: boolean): number {
  const [now, setNow] = useState(() => performance.now())
  useEffect(() => {
    if (!busy) return
    setNow(performance.now())
    const tick = setInterval(() => setNow(performance.now()), 250)
    return () => clearInterval(tick)
  }, [since, busy])
  return Math.max(0, now - since)
}

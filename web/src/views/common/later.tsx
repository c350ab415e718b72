// Components whose code is loaded when they are first shown, such as the view in
// space with its large library.

import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { t } from '../../show.ts'

export function lazy<P extends object>(load: () => Promise<{ default: ComponentType<P> }>): ComponentType<P> {
  let loaded: ComponentType<P> | null = null
  return function Later(props: P) {
    const [, redraw] = useState(0)
    const [error, setError] = useState('')
    useEffect(() => {
      if (loaded) return
      load().then((m) => { loaded = m.default; redraw(1) }, (e: unknown) => setError(String(e)))
    }, [])
    if (error) return <p class="error padded" role="alert">{error}</p>
    if (!loaded) return <p class="quiet padded" aria-busy="true">{t('shell.fetching')}</p>
    const Loaded = loaded
    return <Loaded {...props} />
  }
}

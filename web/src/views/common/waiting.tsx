// What stands in the place of a view while it loads, and where it could not.

import type { ComponentChildren } from 'preact'
import type { Loaded } from './load.ts'
import { t } from '../../show.ts'

export function Loading<T>({ of, children }: { of: Loaded<T>; children: (value: T) => ComponentChildren }) {
  if (of.value === null) return of.error ? <p class="error padded" role="alert">{of.error}</p> : <p class="quiet padded" aria-busy="true">{t('shell.loading')}</p>
  return (
    <>
      {of.error && <p class="error padded" role="alert">{of.error}</p>}
      {children(of.value)}
    </>
  )
}

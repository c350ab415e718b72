// How things are shown: language, units, light or dark.

import type { Signal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { appearance, language, units } from '../preferences.ts'
import { t } from '../show.ts'

export function Display() {
  const details = useRef<HTMLDetailsElement>(null)
  useEffect(() => {
    const outside = (e: Event) => {
      if (details.current?.open && !details.current.contains(e.target as Node)) details.current.open = false
    }
    addEventListener('pointerdown', outside)
    return () => removeEventListener('pointerdown', outside)
  }, [])
  const shut = (e: KeyboardEvent) => {
    if (e.key !== 'Escape' || !details.current?.open) return
    details.current.open = false
    details.current.querySelector('summary')?.focus()
  }
  return (
    <details class="display" ref={details} onKeyDown={shut}>
      <summary>{t('display.title')}</summary>
      <div class="display-choices">
        <Choice of={language} name="display.language" values={['en', 'de']} />
        <Choice of={units} name="display.units" values={['metric', 'imperial']} />
        <Choice of={appearance} name="display.appearance" values={['system', 'light', 'dark']} />
      </div>
    </details>
  )
}

function Choice<T extends string>(p: { of: Signal<T>; name: string; values: readonly T[] }) {
  return (
    <fieldset>
      <legend>{t(p.name)}</legend>
      {p.values.map((v) => (
        <label>
          <input type="radio" name={p.name} checked={p.of.value === v} onChange={() => (p.of.value = v)} />
          {t(`${p.name}.${v}`)}
        </label>
      ))}
    </fieldset>
  )
}

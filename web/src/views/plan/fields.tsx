// Fields of the side panel. Each shows a value of one or several objects, says so
// where they differ, and gives a new one when it is left or Enter is pressed.

import { useId, useLayoutEffect, useRef, useState } from 'preact/hooks'
import { length, readLength, t } from '../../show.ts'
import { units } from '../../preferences.ts'

// The value that all share; MIXED where they differ.
export const MIXED = Symbol('mixed')
export type Shared<T> = T | typeof MIXED | undefined

export function shared<O, T>(all: readonly O[], of: (o: O) => T | undefined): Shared<T> {
  const first = all[0] && of(all[0])
  return all.every((o) => of(o) === first) ? first : MIXED
}

interface FieldProps<T> {
  label: string
  value: Shared<T>
  hint?: string
  onChange: (v: T | undefined) => void
}

function Written<T>(p: FieldProps<T> & { show: (v: T) => string; read: (text: string) => T | null; mode?: 'decimal' | 'text'; unit?: string; list?: readonly string[] }) {
  const id = useId()
  const shown = p.value === MIXED || p.value === undefined ? '' : p.show(p.value)
  const [bad, setBad] = useState(false)
  const input = useRef<HTMLInputElement>(null)
  const before = useRef('')
  // A value that changes elsewhere is shown, but not over what is being typed.
  useLayoutEffect(() => {
    const i = input.current
    if (i && (document.activeElement !== i || i.value === before.current)) i.value = shown
    before.current = shown
  }, [shown])
  const done = () => {
    const text = input.current?.value ?? ''
    if (!input.current || text === shown) return setBad(false)
    const v = text.trim() === '' ? undefined : p.read(text)
    setBad(v === null)
    if (v === null) return
    p.onChange(v)
    if (v !== undefined && input.current) input.current.value = p.show(v)
  }
  return (
    <label class="entry">
      <span>{p.label}</span>
      <input
        ref={input}
        defaultValue={shown}
        placeholder={p.value === MIXED ? t('field.mixed') : (p.hint ?? '')}
        inputMode={p.mode ?? 'text'}
        aria-invalid={bad}
        list={p.list ? id : undefined}
        onBlur={done}
        onKeyDown={(e) => {
          if (e.key === 'Enter') done()
          if (e.key === 'Escape' && input.current) input.current.value = shown
        }}
      />
      {p.unit && <small aria-hidden="true">{p.unit}</small>}
      {p.list && (
        <datalist id={id}>
          {p.list.map((v) => (
            <option value={v} />
          ))}
        </datalist>
      )}
      {bad && <em class="error" role="alert">{t('field.unread')}</em>}
    </label>
  )
}

export const LengthField = (p: FieldProps<number>) => <Written {...p} show={length} read={readLength} unit={units.value === 'metric' ? 'mm' : ''} />

export const TextField = (p: FieldProps<string> & { list?: readonly string[] }) => <Written {...p} show={(v) => v} read={(v) => v.trim()} />

export const NumberField = (p: FieldProps<number> & { unit?: string }) => (
  <Written {...p} mode="decimal" show={(v) => String(v)} read={(text) => (/^-?\d+([.,]\d+)?$/.test(text.trim()) ? Number(text.replace(',', '.')) : null)} />
)

export function SelectField(p: FieldProps<string> & { options: readonly (readonly [string, string])[]; none?: string }) {
  const now = p.value === MIXED ? ' mixed' : (p.value ?? '')
  const known = p.options.some(([v]) => v === now)
  return (
    <label class="entry">
      <span>{p.label}</span>
      <select value={now} onChange={(e) => p.onChange((e.currentTarget as HTMLSelectElement).value || undefined)}>
        {p.value === MIXED && <option value=" mixed" disabled>{t('field.mixed')}</option>}
        {p.none !== undefined && <option value="">{p.none}</option>}
        {!known && now !== '' && now !== ' mixed' && <option value={now}>{now}</option>}
        {p.options.map(([v, text]) => (
          <option value={v}>{text}</option>
        ))}
      </select>
    </label>
  )
}

export function CheckField(p: FieldProps<boolean>) {
  return (
    <label class="entry tick">
      <input type="checkbox" checked={p.value === true} onChange={(e) => p.onChange((e.currentTarget as HTMLInputElement).checked || undefined)} />
      <span>{p.label}</span>
    </label>
  )
}

// The choices of an enumeration of the plan, with their texts under a prefix.
export const choices = (prefix: string, values: readonly string[]) => values.map((v) => [v, t(`${prefix}.${v}`)] as const)

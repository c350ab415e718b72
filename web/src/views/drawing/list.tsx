// What was recognised, the surest first or last, with what was decided of each.

import { signal } from '@preact/signals'
import { useEffect, useRef, useState } from 'preact/hooks'
import { number, t } from '../../show.ts'
import { decide, itemKey } from './hand.ts'
import type { Item, Kind, Standing } from './items.ts'
import { acceptFrom } from './items.ts'
import { act, items, picked, show } from './session.ts'
import { kindOf, measures, percent, sureness } from './words.ts'

const kinds: readonly Kind[] = ['wall', 'structure', 'opening', 'column', 'room']
const standings: readonly Standing[] = ['open', 'taken', 'refused']
const marks = { open: '·', taken: '✓', refused: '✗' }

const kind = signal<Kind | ''>('')
const standing = signal<Standing | ''>('')
const rising = signal(false)

const most = 200

export function List() {
  const shown = items.value.filter((i) => (kind.value === '' || i.kind === kind.value) && (standing.value === '' || i.standing === standing.value))
  const rows = rising.value ? [...shown].reverse() : shown
  const [all, setAll] = useState(false)
  return (
    <section class="read-list" aria-labelledby="read-list">
      <h2 id="read-list">{t('drawing.recognised', { n: items.value.length })}</h2>
      <AcceptAll />
      <div class="read-filter">
        <Choice label={t('drawing.show')} value={kind} none={t('drawing.all')} options={kinds.map((k) => [k, t(`drawing.kinds.${k}`)])} />
        <Choice label={t('drawing.standing')} value={standing} none={t('drawing.all')} options={standings.map((s) => [s, `${t(`drawing.standing.${s}`)} (${number(items.value.filter((i) => i.standing === s).length)})`])} />
        <button aria-pressed={rising.value} onClick={() => (rising.value = !rising.value)}>
          {t('drawing.rising')}
        </button>
      </div>
      <ul class="read-rows" onKeyDown={(e) => move(e)}>
        {(all ? rows : rows.slice(0, most)).map((i) => (
          <Row i={i} key={i.key} />
        ))}
      </ul>
      {rows.length === 0 && <p class="quiet">{t('drawing.none')}</p>}
      {!all && rows.length > most && <button onClick={() => setAll(true)}>{t('drawing.more', { n: rows.length - most })}</button>}
    </section>
  )
}

function Choice<T extends string>(p: { label: string; value: { value: T | '' }; none: string; options: [T, string][] }) {
  return (
    <label>
      <span class="hidden-text">{p.label}</span>
      <select value={p.value.value} onChange={(e) => (p.value.value = (e.currentTarget as HTMLSelectElement).value as T | '')}>
        <option value="">{`${p.label}: ${p.none}`}</option>
        {p.options.map(([v, text]) => (
          <option value={v}>{text}</option>
        ))}
      </select>
    </label>
  )
}

function AcceptAll() {
  const [from, setFrom] = useState(80)
  const n = items.value.filter((i) => i.standing === 'open' && i.confidence * 100 >= from - 1e-7).length
  return (
    <form class="read-accept" onSubmit={(e) => (e.preventDefault(), act(acceptFrom(items.value, from / 100)))}>
      <label>
        {t('drawing.from')} <input type="number" min="0" max="100" step="5" value={from} onInput={(e) => setFrom(Number((e.currentTarget as HTMLInputElement).value))} /> %
      </label>
      <button class="main" disabled={n === 0}>
        {t('drawing.acceptall', { n })}
      </button>
    </form>
  )
}

function Row({ i }: { i: Item }) {
  const now = picked.value === i.key
  const button = useRef<HTMLButtonElement>(null)
  useEffect(() => {
    if (now) button.current?.scrollIntoView({ block: 'nearest' })
  }, [now])
  return (
    <li class={`read-row ${i.standing}`}>
      <button ref={button} class="read-pick" aria-pressed={now} onClick={() => show(i.key)}>
        <span class="read-mark" aria-hidden="true">{marks[i.standing]}</span>
        <b>{kindOf(i)}</b>
        <span class="read-measures">{measures(i)}</span>
        <span class="read-sure">
          {i.signs.includes('hand') ? t('drawing.byhand') : `${percent(i.confidence)} ${sureness(i.confidence)}`}
          <span class="hidden-text">, {t(`drawing.standing.${i.standing}`)}</span>
        </span>
      </button>
      <button aria-label={t('drawing.accept.of', { name: i.name })} title={t('drawing.accept')} aria-pressed={i.standing === 'taken'} onClick={() => ((picked.value = i.key), decide('taken'))}>
        ✓
      </button>
      <button aria-label={t('drawing.refuse.of', { name: i.name })} title={t('drawing.refuse')} aria-pressed={i.standing === 'refused'} onClick={() => ((picked.value = i.key), decide('refused'))}>
        ✗
      </button>
    </li>
  )
}

// Up and down go from row to row; a key decides and goes on to the next.
function move(e: KeyboardEvent): void {
  const rows = [...(e.currentTarget as HTMLElement).querySelectorAll<HTMLButtonElement>('.read-pick')]
  const at = rows.findIndex((r) => r.parentElement?.contains(document.activeElement))
  const step = e.key === 'ArrowDown' ? 1 : e.key === 'ArrowUp' ? -1 : 0
  if (step !== 0 && rows[at + step]) {
    e.preventDefault()
    rows[at + step]?.focus()
    rows[at + step]?.click()
  } else if (step === 0 && itemKey(e)) {
    e.preventDefault()
    e.stopPropagation()
  }
}

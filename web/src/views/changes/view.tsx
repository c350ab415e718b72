// The place "Changes": what was done, newest first; any two revisions held against
// each other, on the plan and as a list; back to any.

import { useEffect, useState } from 'preact/hooks'
import { call } from '../../api.ts'
import { client } from '../../api.ts'
import { refine, route } from '../../route.ts'
import { project } from '../../state.ts'
import { failed } from '../../sync.ts'
import { date, number, t } from '../../show.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { Comparison } from './comparison.tsx'
import type { Revision } from './types.ts'

export default function ChangesPlace() {
  const s = project.value
  const [list, setList] = useState<Revision[]>([])
  const [more, setMore] = useState(false)
  const [marked, setMarked] = useState(false)
  const [back, setBack] = useState<Revision | null>(null)
  const [naming, setNaming] = useState<Revision | null>(null)
  const { from, to } = route.value.query
  const id = s?.id
  const load = async (before?: number) => {
    if (!id) return
    const q = new URLSearchParams()
    if (before !== undefined) q.set('before', String(before))
    if (marked) q.set('marked', '1')
    const next = await call<Revision[] | null>('GET', `${at(id)}/revisions?${q}`)
    setMore((next?.length ?? 0) >= 200)
    setList((l) => (before === undefined ? next ?? [] : [...l, ...(next ?? [])]))
  }
  useEffect(() => void load().catch(failed), [id, marked, s?.revision])
  const choose = (which: 'from' | 'to', n: number) => refine({ from, to, [which]: String(n) })
  if (!s) return null
  const pair = from && to && from !== to ? ([Math.min(Number(from), Number(to)), Math.max(Number(from), Number(to))] as const) : null
  return (
    <div class="split opened changes-place">
      <section class="split-list" aria-label={t('changes.title')}>
        <header class="place-head">
          <h1>{t('changes.title')}</h1>
          <label class="tick"><input type="checkbox" checked={marked} onChange={() => setMarked(!marked)} /> {t('changes.marked')}</label>
        </header>
        <p class="quiet padded">{t('changes.how')}</p>
        <ol class="revisions">
          {list.map((r) => (
            <li key={r.revision} class={r.mark ? 'marked' : ''}>
              <label class="pick" title={t('changes.from')}><input type="radio" name="from" checked={from === String(r.revision)} onChange={() => choose('from', r.revision)} aria-label={t('changes.from.of', { n: r.revision })} /></label>
              <label class="pick" title={t('changes.to')}><input type="radio" name="to" checked={to === String(r.revision)} onChange={() => choose('to', r.revision)} aria-label={t('changes.to.of', { n: r.revision })} /></label>
              <div class="revision-what">
                <b>{number(r.revision)}</b> {r.label}
                {r.mark && <span class="revision-mark"> {r.mark}</span>}
                <div class="quiet">{date(r.when)}</div>
              </div>
              <button class="plain" onClick={() => setNaming(r)} aria-label={t('changes.mark.of', { n: r.revision })}>{t('changes.mark')}</button>
              <button class="plain" disabled={r.revision === s.revision} onClick={() => setBack(r)} aria-label={t('changes.back.of', { n: r.revision })}>{t('changes.back')}</button>
            </li>
          ))}
        </ol>
        {more && <button onClick={() => void load(list.at(-1)?.revision).catch(failed)}>{t('changes.older')}</button>}
      </section>
      <section class="split-main" aria-label={t('changes.comparison')}>
        {pair ? <Comparison key={pair.join()} from={pair[0]} to={pair[1]} /> : <p class="padded quiet">{t('changes.pick')}</p>}
      </section>
      {back && <Back of={back} onClose={() => setBack(null)} />}
      {naming && <Naming of={naming} onClose={(changed) => { setNaming(null); if (changed) void load().catch(failed) }} />}
    </div>
  )
}

const at = (id: string) => `projects/${encodeURIComponent(id)}`

function Back({ of: r, onClose }: { of: Revision; onClose: () => void }) {
  const go = () => {
    const s = project.value
    if (s) void call('POST', `${at(s.id)}/revisions/${r.revision}/restore`, { base: s.revision, client }).then(onClose, failed)
  }
  return (
    <Dialog title={t('changes.back.title', { n: r.revision })} onClose={onClose}>
      <p>{t('changes.back.what')}</p>
      <div class="buttons">
        <button class="main" onClick={go}>{t('changes.back.do')}</button>
        <button onClick={onClose}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}

function Naming({ of: r, onClose }: { of: Revision; onClose: (changed: boolean) => void }) {
  const [name, setName] = useState(r.mark ?? '')
  const save = (e: Event) => {
    e.preventDefault()
    const s = project.value
    if (s) void call('PUT', `${at(s.id)}/revisions/${r.revision}/mark`, { mark: name.trim() }).then(() => onClose(true), failed)
  }
  return (
    <Dialog title={t('changes.mark.title', { n: r.revision })} onClose={() => onClose(false)}>
      <form onSubmit={save}>
        <label class="ask">
          {t('changes.mark.name')}
          <input value={name} maxLength={60} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <div class="buttons">
          <button class="main" type="submit">{t('changes.mark.save')}</button>
          <button type="button" onClick={() => onClose(false)}>{t('shell.cancel')}</button>
        </div>
      </form>
    </Dialog>
  )
}

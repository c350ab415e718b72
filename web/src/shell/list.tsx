// The list of projects with small pictures, and the ways to start one: empty,
// from a file dropped anywhere or picked, or the demo.

import { signal } from '@preact/signals'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Finding, ProjectBrief } from '../api.ts'
import { ApiError, api } from '../api.ts'
import { isDrawing, showDrawing } from '../incoming.ts'
import { go, href } from '../route.ts'
import { notice } from '../state.ts'
import { failed } from '../sync.ts'
import { date, t } from '../show.ts'
import { Findings } from './findings.tsx'
import { Dialog } from './dialog.tsx'
import { locked } from './login.tsx'

const list = signal<ProjectBrief[] | null>(null)
const imported = signal<{ id: string | null; file: string; findings: Finding[]; detail?: string } | null>(null)
const busy = signal('')

const load = () =>
  api.projects().then(
    (all) => (list.value = all),
    (e: unknown) => {
      if (e instanceof ApiError && e.status === 401) locked.value = true
      else failed(e)
    },
  )

async function create(from: 'empty' | 'demo'): Promise<void> {
  try {
    const { id } = await api.create(from, from === 'empty' ? t('list.unnamed') : undefined)
    go(href(id))
  } catch (e) {
    failed(e)
  }
}

export async function importFile(file: File): Promise<void> {
  if (isDrawing(file)) return showDrawing(file, null)
  if (!/\.(ifc|ifczip|ya?ml|json|dxf)$/i.test(file.name)) {
    notice.value = { text: t('list.wrongfile', { file: file.name }), kind: 'error' }
    return
  }
  busy.value = t('list.reading', { file: file.name })
  try {
    const { id, findings } = await api.import(file)
    if (findings && findings.length > 0) imported.value = { id, file: file.name, findings }
    else go(href(id))
    void load()
  } catch (e) {
    const body = e instanceof ApiError ? e.body : {}
    imported.value = { id: null, file: file.name, findings: body.findings ?? [], detail: e instanceof Error ? e.message : String(e) }
  } finally {
    busy.value = ''
  }
}

export function ProjectList() {
  const [over, setOver] = useState(false)
  const file = useRef<HTMLInputElement>(null)
  useEffect(() => void load(), [])
  useDrop(setOver)
  return (
    <main class={`list ${over ? 'over' : ''}`}>
      <section class="starts" aria-labelledby="starts">
        <h1 id="starts">{t('list.start')}</h1>
        <div class="start-row">
          <button class="start" onClick={() => void create('empty')}>
            <b>{t('list.empty')}</b>
            <span>{t('list.empty.what')}</span>
          </button>
          <button class="start" onClick={() => file.current?.click()}>
            <b>{t('list.file')}</b>
            <span>{t('list.file.what')}</span>
          </button>
          <button class="start" onClick={() => void create('demo')}>
            <b>{t('list.demo')}</b>
            <span>{t('list.demo.what')}</span>
          </button>
        </div>
        <input ref={file} type="file" hidden accept=".ifc,.ifczip,.yaml,.yml,.json,.dxf" data-testid="file" onChange={picked} />
        {busy.value && (
          <p role="status" class="busy">
            {busy.value}
          </p>
        )}
      </section>
      <section aria-labelledby="projects">
        <h2 id="projects">{t('list.projects')}</h2>
        {list.value?.length === 0 && <p class="quiet">{t('list.none')}</p>}
        <ul class="cards">{list.value?.map((p) => <Card p={p} key={p.id} />)}</ul>
      </section>
      {over && <div class="drop-here">{t('list.drop')}</div>}
      {imported.value && <Imported />}
    </main>
  )
}

function picked(e: Event): void {
  const input = e.currentTarget as HTMLInputElement
  const f = input.files?.[0]
  if (f) void importFile(f)
  input.value = ''
}

// Takes files dropped anywhere on the page.
function useDrop(setOver: (over: boolean) => void): void {
  useEffect(() => {
    const over = (e: DragEvent) => {
      e.preventDefault()
      setOver(true)
    }
    const out = (e: DragEvent) => {
      if (e.relatedTarget === null) setOver(false)
    }
    const drop = (e: DragEvent) => {
      e.preventDefault()
      setOver(false)
      for (const f of e.dataTransfer?.files ?? []) void importFile(f)
    }
    addEventListener('dragover', over)
    addEventListener('dragleave', out)
    addEventListener('drop', drop)
    return () => {
      removeEventListener('dragover', over)
      removeEventListener('dragleave', out)
      removeEventListener('drop', drop)
    }
  }, [])
}

function Card({ p }: { p: ProjectBrief }) {
  const [asking, setAsking] = useState<'rename' | 'remove' | null>(null)
  const name = p.name || t('list.unnamed')
  return (
    <li class="card">
      <a href={href(p.id)} class="card-open">
        <img src={api.picture(p.id, p.revision)} alt="" loading="lazy" width="280" height="160" />
        <b>{name}</b>
        <span class="quiet">
          {t('list.size', { walls: t('list.walls', { n: p.walls }), levels: t('list.levels', { n: p.levels }) })}
        </span>
        <span class="quiet">{t('list.changed', { date: date(p.changed) })}</span>
      </a>
      <div class="card-tools">
        <button class="plain" onClick={() => setAsking('rename')} aria-label={t('list.rename.of', { name })}>
          {t('list.rename')}
        </button>
        <button class="plain" onClick={() => setAsking('remove')} aria-label={t('list.remove.of', { name })}>
          {t('list.remove')}
        </button>
      </div>
      {asking === 'rename' && <Rename p={p} done={() => setAsking(null)} />}
      {asking === 'remove' && <Remove p={p} done={() => setAsking(null)} />}
    </li>
  )
}

function Rename({ p, done }: { p: ProjectBrief; done: () => void }) {
  const submit = (e: SubmitEvent) => {
    e.preventDefault()
    const name = String(new FormData(e.currentTarget as HTMLFormElement).get('name')).trim()
    api.rename(p.id, name).then(load, failed).finally(done)
  }
  return (
    <Dialog title={t('list.rename')} onClose={done}>
      <form onSubmit={submit}>
        <label>
          {t('list.name')}
          <input name="name" value={p.name} maxLength={200} autofocus />
        </label>
        <div class="buttons">
          <button class="main">{t('list.rename')}</button>
          <button type="button" onClick={done}>
            {t('shell.cancel')}
          </button>
        </div>
      </form>
    </Dialog>
  )
}

function Remove({ p, done }: { p: ProjectBrief; done: () => void }) {
  return (
    <Dialog title={t('list.remove')} onClose={done}>
      <p>{t('list.remove.ask', { name: p.name || t('list.unnamed'), n: p.revision })}</p>
      <div class="buttons">
        <button class="danger" onClick={() => void api.remove(p.id).then(load, failed).finally(done)}>
          {t('list.remove')}
        </button>
        <button onClick={done}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}

function Imported() {
  const i = imported.value
  if (!i) return null
  const shut = () => (imported.value = null)
  return (
    <Dialog title={i.id ? t('list.read', { file: i.file }) : t('list.notread', { file: i.file })} onClose={shut} wide>
      {i.detail && <p class="error">{i.detail}</p>}
      <Findings of={i.findings} />
      <div class="buttons">
        {i.id && (
          <button class="main" onClick={() => (shut(), go(href(i.id)))}>
            {t('list.open')}
          </button>
        )}
        <button onClick={shut}>{t('shell.close')}</button>
      </div>
    </Dialog>
  )
}

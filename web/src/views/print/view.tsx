// The place "Print": what goes into the pack, how far it has come, and the file.

import { useEffect, useState } from 'preact/hooks'
import { call } from '../../api.ts'
import { jobs, project } from '../../state.ts'
import { failed } from '../../sync.ts'
import { number, t } from '../../show.ts'
import { Downloads } from '../common/export.tsx'

// Parts of the pack in the order in which they are bound.
const parts = ['practice', 'set_out', 'details', 'walls', 'finish', 'proofs', 'takeoff', 'masonry', 'findings'] as const

interface Job {
  id: string
  kind: string
  work?: string
  done: number
  total: number
  state: string
}

export default function PrintPlace() {
  const [wanted, setWanted] = useState<ReadonlySet<string>>(new Set(parts))
  const [asked, setAsked] = useState<Job | null>(null)
  const id = project.value?.id
  const job = (asked && (jobs.value.get(asked.id) as Job | undefined)) ?? asked
  const path = `projects/${encodeURIComponent(id ?? '')}/jobs`
  // Where the events do not come through, the job is asked for itself.
  useEffect(() => {
    if (!asked || job?.state !== 'running') return
    const again = setInterval(() => void call<Job>('GET', `${path}/${asked.id}`).then((j) => setAsked(j), () => undefined), 2000)
    return () => clearInterval(again)
  }, [asked?.id, job?.state])
  const toggle = (p: string) => {
    const next = new Set(wanted)
    if (!next.delete(p)) next.add(p)
    setWanted(next)
  }
  const start = () => void call<Job>('POST', path, { kind: 'pack', parts: parts.filter((p) => wanted.has(p)) }).then((j) => setAsked({ ...j, state: j.state ?? 'running', done: j.done ?? 0, total: j.total ?? 0 }), failed)
  const stop = () => asked && void call('DELETE', `${path}/${asked.id}`).then(() => setAsked({ ...asked, state: 'stopped' }), failed)
  const running = job?.state === 'running'
  return (
    <div class="print-place padded">
      <h1>{t('print.title')}</h1>
      <p>{t('print.what')}</p>
      <fieldset class="print-parts" disabled={running}>
        <legend>{t('print.parts')}</legend>
        {parts.map((p) => (
          <label>
            <input type="checkbox" checked={wanted.has(p)} onChange={() => toggle(p)} />
            <span>
              <b>{t(`print.part.${p}`)}</b>
              <br />
              <span class="quiet">{t(`print.part.${p}.what`)}</span>
            </span>
          </label>
        ))}
      </fieldset>
      <div class="buttons">
        <button class="main" disabled={running || wanted.size === 0} onClick={start}>{t('print.start')}</button>
        {running && <button onClick={stop}>{t('print.stop')}</button>}
      </div>
      {job && <Progress of={job} />}
      {job?.state === 'done' && asked && (
        <p><a class="download" href={`/api/${path}/${asked.id}/result`} download="pack.pdf">{t('print.download')}</a></p>
      )}
      <section aria-labelledby="print-others">
        <h2 id="print-others">{t('print.others')}</h2>
        <p>{t('print.others.what')}</p>
        <Downloads kind="model" />
      </section>
      <p class="caution">{t('common.caution')}</p>
    </div>
  )
}

function Progress({ of: j }: { of: Job }) {
  const share = j.total > 0 ? j.done / j.total : 0
  return (
    <div class="progress">
      <progress max={1} value={j.state === 'done' ? 1 : share} aria-label={t('print.progress')} />
      <p role="status">
        {t(`print.state.${j.state}`)}
        {j.state === 'running' && j.total > 0 && ` ${t('print.of', { done: number(j.done), total: number(j.total) })}`}
        {j.state === 'running' && j.work && <span class="quiet" lang="en"> {j.work}</span>}
      </p>
    </div>
  )
}

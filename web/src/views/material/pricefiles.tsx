// The firm's own price lists and rates that go with the project.

import { useEffect, useState } from 'preact/hooks'
import { call } from '../../api.ts'
import { project } from '../../state.ts'
import { failed } from '../../sync.ts'
import { t } from '../../show.ts'

interface PriceFile {
  name: string
}

export function PriceFiles({ onChange }: { onChange: () => void }) {
  const [list, setList] = useState<PriceFile[]>([])
  const path = `projects/${encodeURIComponent(project.value?.id ?? '')}/prices`
  const load = () => call<PriceFile[] | null>('GET', path).then((l) => setList(l ?? []), failed)
  useEffect(() => void load(), [path])
  const put = async (files: FileList | null) => {
    for (const f of files ?? []) await call('PUT', `${path}/${encodeURIComponent(f.name)}`, new Blob([f]))
    await load()
    onChange()
  }
  const remove = (name: string) => void call('DELETE', `${path}/${encodeURIComponent(name)}`).then(load).then(onChange, failed)
  return (
    <section class="padded" aria-label={t('price.files')}>
      <h2>{t('price.files')}</h2>
      <p class="quiet">{t('price.files.what')}</p>
      <ul class="price-files">
        {list.map((f) => (
          <li>
            {f.name} <button class="plain" onClick={() => remove(f.name)} aria-label={t('price.files.remove', { name: f.name })}>×</button>
          </li>
        ))}
      </ul>
      <label class="ask ask-file">
        {t('price.files.add')}
        <input type="file" accept=".csv,.xlsx,.yaml,.yml" multiple onChange={(e) => void put(e.currentTarget.files).catch(failed)} />
      </label>
    </section>
  )
}

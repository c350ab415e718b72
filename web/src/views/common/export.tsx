// Links to files of the open project.

import { project } from '../../state.ts'
import { t } from '../../show.ts'

export const exportURL = (file: string) => `/api/projects/${encodeURIComponent(project.value?.id ?? '')}/export/${file}`

export function Downloads({ files }: { files: readonly string[] }) {
  return (
    <p class="downloads">
      {t('common.download')}:{' '}
      {files.map((f) => (
        <a class="download" href={exportURL(f)} download>
          {f}
        </a>
      ))}
    </p>
  )
}

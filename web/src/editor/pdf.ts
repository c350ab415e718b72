// Turns a page of a PDF into a picture, here in the browser. The reader is loaded
// when it is first asked for.

import worker from 'pdfjs-dist/build/pdf.worker.min.mjs?url'

// Pixels along the longer side: fine lines of an A1 plan still show.
const longest = 5000

export interface Pages {
  count: number
  picture: (page: number) => Promise<Blob>
}

export async function pages(file: Blob): Promise<Pages> {
  const pdf = await import('pdfjs-dist')
  pdf.GlobalWorkerOptions.workerSrc = worker
  const document_ = await pdf.getDocument({ data: await file.arrayBuffer(), useWasm: false }).promise
  return {
    count: document_.numPages,
    picture: async (n) => {
      const page = await document_.getPage(n)
      const plain = page.getViewport({ scale: 1 })
      const viewport = page.getViewport({ scale: longest / Math.max(plain.width, plain.height) })
      const canvas = document.createElement('canvas')
      canvas.width = Math.ceil(viewport.width)
      canvas.height = Math.ceil(viewport.height)
      await page.render({ canvas, viewport }).promise
      return new Promise((done, failed) => canvas.toBlob((b) => (b ? done(b) : failed(new Error('no picture'))), 'image/png'))
    },
  }
}

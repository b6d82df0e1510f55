import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** The text of each page as a reader finds it, pieces joined by spaces. */
export async function pdfPages(bytes: Buffer): Promise<readonly string[]> {
  const document = await openPdf(bytes);
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const content = await page.getTextContent();
    pages.push(
      content.items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\s+/gu, ' '),
    );
  }
  return pages;
}

/** The document as pdfjs opens it. */
export async function openPdf(bytes: Buffer) {
  return getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
}

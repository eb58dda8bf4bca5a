const PDF = 'application/pdf';

/** Hands a PDF file over to whoever shows the page, by its name. Nothing is navigated to. */
export function saveFile(fileName: string, base64: string): void {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type: PDF }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS);
}

/** A file is fetched from the page soon after the click, but not within it. */
const KEPT_MS = 60_000;

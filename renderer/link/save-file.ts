const PDF = 'application/pdf';

/** Hands a PDF file over to whoever shows the page, by its name. Nothing is navigated to. */
export function saveFile(fileName: string, base64: string): void {
  saveParts(fileName, PDF, [bytesOf(base64)]);
}

/** The same for a file of any kind, from its parts in order. */
export function saveParts(fileName: string, mediaType: string, parts: readonly Uint8Array<ArrayBuffer>[]): void {
  const address = URL.createObjectURL(new Blob([...parts], { type: mediaType }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS);
}

export const bytesOf = (base64: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));

/** A file is fetched from the page soon after the click, but not within it. */
const KEPT_MS = 60_000;

import { escapeHtml } from "../../6-report/pages/html-page.js";
import { visible } from "../../core/words.js";
import { addressOf } from "./address.js";
import type { DeskItem, DeskUpload } from "./desk-upload.js";
import { sizeInShort } from "./figure-words.js";
import { groupWords } from "./groups.js";

/**
 * A row of the list in one line of HTML, which can be read without a script. It is light: what is seldom looked at, the script fills
 * in when the upload is opened.
 */
export function deskRow(item: DeskItem, upload: DeskUpload): string {
  const { file, group, short, words, message, files, same, decision, note, columns } = item;
  const folder = file.slice(0, file.lastIndexOf("/") + 1);
  const page = files.find((path) => path.endsWith(".html"));
  const { photo, prediction } = picturesOf(upload);
  const said = words[0] ?? message;
  const parts = [
    `<input type="checkbox" class="pick" aria-label="Select ${escapeHtml(file)}">`,
    `<span class="pictures">${photo}${prediction}</span>`,
    `<div class="said"><h2><a class="name"${page === undefined ? "" : ` href="${escapeHtml(addressOf(page))}"`}>${escapeHtml(file.slice(folder.length))}</a></h2>`,
    `<p class="grade"><span>${groupWords(group)}</span>`,
    `${same.length > 0 ? ' <span class="mark same">duplicate</span>' : ""}`,
    `${decision ? ` <span class="mark verdict">${decision.verdict === "approved" ? "approved" : "sent back"}</span>` : ""}</p>`,
    said ? `<p class="lead">${escapeHtml(said)}</p>` : "",
    `<p class="small">${escapeHtml([short, columns.map(([, cell]) => cell).join(" "), folder, note].filter(Boolean).join(" · "))}</p>`,
    "</div>",
  ];
  const html = `<li class="${group}${decision ? ` ${decision.verdict}` : ""}">${parts.join("")}</li>`;
  return html.replace(/(?<!\s)\s*\n\s*/g, " ");
}

/** The pictures, and what they show in words. */
function picturesOf({ entry, photo, prediction }: DeskUpload) {
  const { figures } = entry;
  const name = visible(entry.file);
  const pixels = figures && figures.pxPerMm > 0 ? `, ${figures.widthPx} × ${figures.heightPx} pixels` : "";
  const size = figures ? `, ${sizeInShort(figures)}` : "";
  const picture = (which: string, src: string | undefined, alt: string): string =>
    src === undefined
      ? ""
      : `<img class="${which}" src="${escapeHtml(src)}" alt="${escapeHtml(alt)}" loading="lazy" decoding="async">`;
  return {
    photo: picture("photo", photo, `${name} as it was sent${pixels}`),
    prediction: picture("prediction", prediction, `${name} as predicted${size}`),
  };
}

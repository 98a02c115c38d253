import { escapeHtml } from "../../6-report/pages/html-page.js";
import { boardWords } from "../../board/board-words.js";
import { visible } from "../../core/words.js";
import { type BoardEntry, type BoardVerdicts, piecesOn } from "../board-records.js";
import { addressOf } from "./address.js";

/** The boards of a batch with their files, and why some pieces lie on none. Empty without boards. */
export function deskBoards(laid: BoardVerdicts | undefined): string {
  if (!laid) return "";
  const { boards, notLaid } = laid;
  const items = boards.map((board) => `<li>${boardHtml(board)}</li>`).join("\n");
  const none = "<p>No piece is ready for a board yet.</p>";
  const reasons = notLaid.map(({ message }) => `<li>${escapeHtml(visible(message))}</li>`).join("\n");
  const count = notLaid.length === 1 ? "1 piece lies" : `${notLaid.length} pieces lie`;
  return `<section class="boards"><h2>Boards</h2>
${boards.length > 0 ? `<ul>\n${items}\n</ul>` : none}
${notLaid.length > 0 ? `<details><summary>${count} on no board</summary><ul>\n${reasons}\n</ul></details>` : ""}
</section>`;
}

function boardHtml(board: BoardEntry): string {
  const words = escapeHtml(visible(boardWords(piecesOn(board), board)));
  const files = board.outputs.map((path) => {
    return `<a href="${escapeHtml(addressOf(path))}">${escapeHtml(visible(path.slice(path.lastIndexOf("/") + 1)))}</a>`;
  });
  return `${words}<br><span class="quiet">${files.join(" · ")}</span>`;
}

/** What the keys do, for the page. */
const KEYS = [
  ["↓ or J", "next upload"],
  ["↑ or K", "upload before"],
  ["A", "approve"],
  ["B", "send back: write the note, then press Enter"],
  ["U", "take the decision back"],
  ["C", "copy the words for the customer"],
  ["X", "select, or select no more"],
  ["/", "search"],
  ["Esc", "back to the list"],
] as const;

/** The pane for one upload, empty: the page's script fills it. */
export function deskPane(): string {
  const keys = KEYS.map(([key, what]) => `<div><dt><kbd>${key}</kbd></dt><dd>${what}</dd></div>`).join("");
  return `<section class="pane screen" aria-labelledby="pane-name" hidden>
<div class="pane-head"><button type="button" class="back">Back to the list</button><h2 id="pane-name" tabindex="-1"></h2>
<p class="grade"></p><p class="small same"></p></div>
<div class="sides"><figure class="photo"><img alt=""><figcaption>As it was sent</figcaption></figure><figure class="prediction"><img alt=""><figcaption>As predicted</figcaption></figure></div>
<form class="decide"><p class="decided" role="status"></p>
<label class="note">Note <textarea name="note" rows="2"></textarea></label>
<p class="buttons"><button type="button" value="approved" class="approve">Approve</button> <button type="button" value="sent-back" class="send-back">Send back</button> <button type="button" value="open" class="take-back">Take back</button> <label class="by">Your name <input name="by" autocomplete="name"></label></p></form>
<section class="customer" hidden><h3>To the customer</h3><blockquote class="words"></blockquote><p><button type="button" class="copy">Copy</button> <span class="copied" role="status"></span></p>
<details class="more"><summary></summary><ul></ul></details></section>
<section class="shop"><h3>For the shop</h3><p class="order small"></p><p class="message"></p><ul class="figures"></ul>
<details class="warnings"><summary></summary><ul></ul></details><details class="history"><summary>Earlier decisions</summary><ul></ul></details><p class="links"></p></section>
<details class="keys"><summary>Keys</summary><dl>${keys}</dl></details>
</section>`;
}

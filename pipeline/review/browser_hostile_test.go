package review

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestTextsAreTextsOnly: what people write into sheets, names of files and
// words is shown and never run.
func TestTextsAreTextsOnly(t *testing.T) {
	browser(t)
	const number = `<img src=x onerror="document.title='run'">`
	dir := written(t, "ann/IMG_0001 <img src=x onerror=document.title='run'>.JPG", "ann/IMG_0002.JPG")
	quoted := `"` + strings.ReplaceAll(number, `"`, `""`) + `"`
	for name, text := range map[string]string{
		"jackets.csv": "jacket,finds,kind,stage\n14,14,jacket,mapped\n" + quoted + ",15,jacket,mapped\n",
		"season.toml": "name = \"<script>document.title='run'</script>\"\n",
		"words.log":   "2026-02-11T18:42:05-03:00\t<b>AB</b>\tphoto ann/IMG_0002.JPG\tcaption\t<script>document.title='run'</script>\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx}
	for _, pane := range []string{"t", "v", "k", "g"} {
		h.shortcut(pane)
		drive(t, ctx, chromedp.Sleep(200_000_000))
		if n := asks[int](t, ctx, `document.querySelectorAll('img[src="x"], body script, b b, td img').length`); n != 0 {
			t.Errorf("pane %s: %d elements made of texts", pane, n)
		}
	}
	if title := asks[string](t, ctx, "document.title"); !strings.HasPrefix(title, "<script>") {
		t.Errorf("title %q", title)
	}
	h.shortcut("k")
	h.until(fmt.Sprintf("[...document.querySelectorAll('#check .jacket-number')].some(b => b.textContent === %q)", number))
	h.shortcut("t")
	h.click(thumbnail("ann/IMG_0002.JPG"))
	drive(t, ctx, chromedp.SetValue(chromedp.CSS("#jacket"), number))
	h.click("#give")
	h.told("1 photo: jacket <img") // the number is the register's, and is given like any other
	if title := asks[string](t, ctx, "document.title"); !strings.HasPrefix(title, "<script>") {
		t.Errorf("after it was given: title %q", title)
	}
}

// TestAnotherPageOfTheBrowser can neither read the season nor say anything,
// even if it had the secret: it is served from another port of the same
// machine, which a browser counts as the same site. It is sent nothing of it.
func TestAnotherPageOfTheBrowser(t *testing.T) {
	browser(t)
	dir := written(t, "ann/IMG_0001.JPG")
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx}
	h.click(thumbnail("ann/IMG_0001.JPG"))
	h.press("2")
	h.told("view bone") // so that there is a log
	before, err := os.ReadFile(filepath.Join(dir, "words.log"))
	if err != nil {
		t.Fatal(err)
	}
	address := strings.TrimSuffix(s.URL(), "/")
	other := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if got := fmt.Sprint(r.Header); r.Header.Get("Cookie") != "" || strings.Contains(got, s.secret) {
			t.Errorf("another port is sent %s", got)
		}
		w.Header().Set("Content-Type", "text/html")
		fmt.Fprintf(w, `<!doctype html><title>waiting</title><script>
const base = "%s", got = [];
const word = JSON.stringify({by: "XX", words: [{photo: "%s", what: "jackets", value: "14"}]});
const tried = async (name, ask) => { try { const r = await ask(); got.push(name + ":" + r.type + r.status + (await r.text()).length); } catch { got.push(name + ":blocked"); } };
const seen = (tag, url) => new Promise(done => { const e = document.createElement(tag); e.onload = () => done("loaded"); e.onerror = () => done("error"); e.src = url; document.head.append(e); });
(async () => {
  await tried("read", () => fetch(base + "/state", {credentials: "include"}));
  await tried("read blind", () => fetch(base + "/state", {mode: "no-cors", credentials: "include"}));
  await tried("say", () => fetch(base + "/say", {method: "POST", mode: "no-cors", credentials: "include", body: word}));
  await tried("say as JSON", () => fetch(base + "/say", {method: "POST", credentials: "include", headers: {"Content-Type": "application/json"}, body: word}));
  await tried("run", () => fetch(base + "/run", {method: "POST", mode: "no-cors", credentials: "include", body: "{}"}));
  got.push("picture:" + await seen("img", base + "/picture/%s/original"));
  got.push("script:" + await seen("script", base + "/main.js"));
  document.title = got.join(" ");
})();
</script><form method="post" action="%s/say" enctype="text/plain"><input name='%s' value=''></form>`,
			address, keyOf("ann/IMG_0001.JPG"), keyOf("ann/IMG_0001.JPG"), address, `{"by":"XX","words":[]}`)
	}))
	defer other.Close()
	drive(t, ctx, chromedp.Navigate(other.URL))
	h.until("document.title !== 'waiting'")
	got := asks[string](t, ctx, "document.title")
	t.Log(got)
	for _, want := range []string{"read:blocked", "say as JSON:blocked", "picture:error", "script:error"} {
		if !strings.Contains(got, want) {
			t.Errorf("want %s", want)
		}
	}
	drive(t, ctx, chromedp.Evaluate[chromedp.Void]("document.forms[0].submit()"), chromedp.Sleep(500_000_000))
	if after, err := os.ReadFile(filepath.Join(dir, "words.log")); err != nil || !bytes.Equal(before, after) {
		t.Errorf("words.log: %v\n%s", err, after)
	}
	if p := s.work.progress(); p.Running || p.Runs > 0 {
		t.Errorf("a run was begun: %+v", p)
	}
}

package review

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestForEveryone: on each pane and in three sizes every control has a name
// for assistive technology, nothing stands beyond the window's side, a finger
// finds each button, and what has the keyboard shows it.
func TestForEveryone(t *testing.T) {
	browser(t)
	names := append(hundred()[:30], "cas/jacket 14/IMG_0001 jacket 15.JPG")
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx}
	h.press(" ")
	h.press("2")
	h.told("view bone")
	for _, pane := range []string{"sort", "settle", "check", "words"} {
		h.click("[data-pane=" + pane + "]")
		drive(t, ctx, chromedp.Sleep(300_000_000))
		shot(t, ctx, pane)
		for _, size := range sizes {
			drive(t, ctx, chromedp.EmulateViewport(size[0], size[1]))
			at := fmt.Sprintf("%s, %d px", pane, size[0])
			within(t, ctx, at)
			for _, name := range unnamed(t, ctx) {
				t.Errorf("%s: a %s without a name", at, name)
			}
		}
		drive(t, ctx, chromedp.EmulateViewport(1280, 800))
		for range 3 {
			h.press(kb.Tab)
			if !asks[bool](t, ctx, `document.activeElement === document.body || getComputedStyle(document.activeElement).outlineStyle !== "none"`) {
				t.Errorf("%s: %s has the keyboard and does not show it", pane, asks[string](t, ctx, "document.activeElement.outerHTML"))
			}
		}
	}
}

// within holds that nothing reaches beyond the window's side, so that the page
// never scrolls across, and that a finger finds each control.
func within(t *testing.T, ctx context.Context, at string) {
	t.Helper()
	if over := asks[int](t, ctx, "document.scrollingElement.scrollWidth - innerWidth"); over > 0 {
		t.Errorf("%s: %d px wider than the window: %s", at, over, asks[string](t, ctx, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => e.outerHTML.slice(0, 60)).slice(0, 4).join("; ")`))
	}
	small := asks[[]string](t, ctx, `[...document.querySelectorAll("button, input, select, summary")].filter(e => e.offsetParent).map(e => [e, e.getBoundingClientRect()])
		.filter(([e, r]) => Math.min(r.width, r.height) < 43.99 || e.scrollWidth > e.clientWidth + 1 && e.matches("button"))
		.map(([e, r]) => e.outerHTML.slice(0, 90) + " " + r.width + " x " + r.height)`)
	for _, control := range small {
		t.Errorf("%s: smaller than 44 px, or its words are cut: %s", at, control)
	}
}

// unnamed are the roles of the controls in the accessibility tree that have no
// name.
func unnamed(t *testing.T, ctx context.Context) (roles []string) {
	t.Helper()
	drive(t, ctx, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		tree, err := cdp.Call(ctx, target, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		if err != nil {
			return err
		}
		controls := 0
		for _, n := range tree.Nodes {
			if n.Ignored || n.Role == nil {
				continue
			}
			role := string(n.Role.Value)
			switch role {
			case `"button"`, `"textbox"`, `"combobox"`, `"option"`, `"listbox"`, `"image"`, `"checkbox"`:
				controls++
				if n.Name == nil || string(n.Name.Value) == `""` || string(n.Name.Value) == "" {
					roles = append(roles, role)
				}
			}
		}
		if controls < 8 {
			t.Errorf("only %d controls in the tree", controls)
		}
		return nil
	}))
	return roles
}

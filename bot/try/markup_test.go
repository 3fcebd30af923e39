package try

import (
	"strings"
	"testing"

	"golang.org/x/net/html"

	"rangepost/bot/words"
)

func TestMarkup(t *testing.T) {
	names := map[string]string{"<@5>": "@Wren", "<#6>": "#challenges", "<@&7>": "@<b>Coaches"}
	for text, want := range map[string]string{
		"Face **2° open**, *perhaps*":  "<p>Face <strong>2° open</strong>, <em>perhaps</em></p>",
		"Use `/post` & go":             "<p>Use <code>/post</code> &amp; go</p>",
		"one\n\ntwo":                   "<p>one</p><p>two</p>",
		"- a\n- b\nthen":               "<ul><li>a</li><li>b</li></ul><p>then</p>",
		"> said":                       "<blockquote>said</blockquote>",
		"<@5> and <@!5> in <#6>":       `<p><span class="mention">@Wren</span> and <span class="mention">@Wren</span> in <span class="mention">#challenges</span></p>`,
		"<@&7>":                        `<p><span class="mention">@&lt;b&gt;Coaches</span></p>`,
		"<@9>":                         `<p><span class="mention">@somebody</span></p>`,
		"**open":                       "<p><strong>open</strong></p>",
		"**a *b** c*":                  "<p><strong>a <em>b</em></strong> c<em></em></p>",
		"<script>1</script>":           "<p>&lt;script&gt;1&lt;/script&gt;</p>",
		"`<b>`":                        "<p><code>&lt;b&gt;</code></p>",
		`\*not\* \<b\> \\`:             "<p>*not* &lt;b&gt; \\</p>",
		"[a](javascript:x)":            "<p>[a](javascript:x)</p>",
		words.Escape("**x** <@5> `y`"): "<p>**x** &lt;@\u200b5&gt; `y`</p>",
	} {
		if got := string(markup(text, names)); got != want {
			t.Errorf("markup(%q)\n = %s\nwant %s", text, got, want)
		}
	}
}

// Whatever a text is, nothing comes of it but the few marks.
func FuzzMarkup(f *testing.F) {
	for _, s := range []string{"**a** <t:1:R> <@1> `c` - x", "<img src=x onerror=1>", "\\", "*", "`", "<", "- \n> ", "**`*"} {
		f.Add(s)
	}
	may := map[string]bool{"p": true, "ul": true, "li": true, "blockquote": true, "strong": true, "em": true, "code": true, "span": true}
	f.Fuzz(func(t *testing.T, text string) {
		z := html.NewTokenizer(strings.NewReader(string(markup(text, nil))))
		for z.Next() != html.ErrorToken {
			token := z.Token()
			switch token.Type {
			case html.TextToken:
				continue
			case html.StartTagToken, html.EndTagToken:
			default:
				t.Fatalf("%q gives %v", text, token)
			}
			if !may[token.Data] || len(token.Attr) > 0 && (len(token.Attr) != 1 || token.Attr[0].Val != "mention") {
				t.Fatalf("%q gives %v", text, token)
			}
		}
	})
}

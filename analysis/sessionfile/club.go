package sessionfile

import (
	"strings"
	"sync"

	"rangepost/analysis"
)

// clubWords turns club words of other languages into the English ones that
// analysis.ParseClub knows. A word or a language is added by a line.
var clubWords = []struct{ english, words string }{
	{"driver", "ドライバー, 드라이버, conductor, drive"},
	{"wood", "Holz, er Holz, bois, madera, legno, trä, träklubba, ウッド, 우드, Fairwayholz, FW, フェアウェイウッド"},
	{"hybrid", "Hybride, híbrido, ibrido, hybrid, ハイブリッド, ユーティリティ, UT, 하이브리드, 유틸리티, Hy"},
	{"iron", "Eisen, er Eisen, fer, hierro, ferro, järn, järnklubba, アイアン, 番アイアン, 番, 아이언, 번 아이언, 번"},
	{"wedge", "ウェッジ, 웨지, cuña, wedgen"},
	{"pitching wedge", "Pitching-Wedge, ピッチングウェッジ, 피칭 웨지, 피칭"},
	{"gap wedge", "Gap-Wedge, ギャップウェッジ, アプローチウェッジ, 갭 웨지, 어프로치 웨지"},
	{"sand wedge", "Sand-Wedge, サンドウェッジ, 샌드 웨지, 샌드"},
	{"lob wedge", "Lob-Wedge, ロブウェッジ, 로브 웨지"},
	{"putter", "パター, 퍼터"},
}

var clubBySpelling = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, line := range clubWords {
		for w := range strings.SplitSeq(line.words, ", ") {
			m[squeezed(w)] = line.english
		}
	}
	return m
})

// parseClub reads a club in any of the languages of the table, with or without
// its loft after it ("7 Eisen", "Fer 7", "SW (56°)").
func parseClub(s string) (analysis.Club, bool) {
	plain := plainText(s)
	if c, err := analysis.ParseClub(plain); err == nil {
		return c, true
	}
	if outside, inside := brackets(plain); len(inside) > 0 && outside != "" {
		if c, ok := parseClub(outside); ok {
			return c, true
		}
	}
	squeezed := squeezed(plain)
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, squeezed)
	word := strings.Replace(squeezed, digits, "", 1)
	english, ok := clubBySpelling()[word]
	if !ok && digits != "" { // "number" before any club
		english, ok = clubBySpelling()[strings.TrimPrefix(strings.TrimPrefix(word, "番"), "번")]
	}
	if !ok {
		return analysis.Club{}, false
	}
	if c, err := analysis.ParseClub(digits + " " + english); err == nil {
		return c, true
	}
	return analysis.Club{}, false
}

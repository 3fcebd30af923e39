package asked

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// kind is what a word is in a text that asks for a shot.
type kind uint8

const (
	shape  kind = iota // a curve with its side, turned round for a left-hander
	start              // what follows is a start line
	curve              // what follows is a curve
	apex               // a height follows
	carry              // a carry follows
	height             // high or low
	short
	side   // left, right; straight on for a start line
	unit   // of the figure before it
	joiner // parts two pieces
	filler
)

// A word is one that texts about shots are made of.
type word struct {
	kind  kind
	side  int     // of a shape for a right-hander; of a side or a height
	times float64 // of the usual amount of a shape
	unit  string  // "deg", "yd", "m", "ft"
}

// vocabulary is every word, by language where that matters to whoever adds one:
// English, German, French, Spanish, Italian, Swedish, Japanese, Korean. Trade
// words; draw and fade are the same in most (common practice, no source).
// Phrases of several words are joined by "-" before they are looked up.
// It is made when a text is first read: a process that only answers posts has no
// use for its four megabytes.
var vocabulary = sync.OnceValue(func() map[string]word {
	v := map[string]word{}
	// Every spelling also as it is typed without its marks, or with "oe" for "ö".
	add := func(w word, spellings ...string) {
		for _, s := range spellings {
			v[s], v[bare(s)], v[digraphs.Replace(s)] = w, w, w
		}
	}
	add(word{kind: shape}, "straight", "strait", "gerade", "geradeaus", "droit", "tout-droit", "recto", "recta", "derecho", "dritto", "dritta", "rak", "raka", "rakt",
		"ストレート", "まっすぐ", "真っ直ぐ", "真っすぐ", "直線", "직선", "스트레이트", "똑바로")
	add(word{kind: shape, side: -1}, "draw", "draws", "drawn", "ドロー", "드로우", "드로")
	add(word{kind: shape, side: 1}, "fade", "fades", "faded", "cut", "フェード", "페이드")
	add(word{kind: shape, side: -1, times: 2.5}, "hook", "hooks", "フック", "훅")
	add(word{kind: shape, side: 1, times: 2.5}, "slice", "slices", "スライス", "슬라이스")

	add(word{kind: start}, "start", "starts", "starting", "started", "start-line", "startline", "startet", "starte", "starten", "startlinie", "startrichtung",
		"départ", "depart", "part", "partir", "démarre", "salida", "sale", "salir", "empieza", "empezar", "inicia", "launch", "launches", "partenza", "parte", "startar", "starta", "startriktning", "startlinje",
		"打ち出し", "打出し", "打ち出す", "打ち出して", "スタート", "출발", "시작", "스타트")
	add(word{kind: curve}, "curve", "curves", "curving", "bend", "bends", "kurve", "kurvt", "courbe", "effet", "curva", "effetto", "efecto", "kurva", "kurvar", "böj", "böjer", "skruv", "skruvar",
		"曲がり", "曲げ", "曲げる", "曲げて", "曲がる", "휘게", "휘는", "カーブ", "커브", "휘어짐", "휨")
	add(word{kind: apex}, "apex", "height", "peak", "peak-height", "max-height", "höhe", "gipfel", "scheitel", "scheitelhöhe", "hauteur", "sommet", "altura", "vértice", "altezza", "apice", "höjd", "topphöjd",
		"最高点", "最高到達点", "高さ", "頂点", "flèche", "정점", "최고점", "높이")
	add(word{kind: carry}, "carry", "carries", "distance", "länge", "weite", "flugweite", "fluglänge", "portée", "vol", "vuelo", "distancia", "volo", "distanza", "längd", "キャリー", "飛距離", "캐리", "비거리")

	add(word{kind: height, side: 1}, "high", "higher", "hoch", "höher", "hoher", "haut", "haute", "plus-haut", "alto", "alta", "más-alto", "più-alto", "hög", "höga", "högt", "högre", "高い", "高め", "ハイ", "高く", "높게", "높은", "하이")
	add(word{kind: height, side: -1}, "low", "lower", "punch", "knockdown", "knock-down", "stinger", "tief", "tiefer", "flach", "flacher", "niedrig", "bas", "basse", "plus-bas", "bajo", "baja", "más-bajo", "basso", "bassa", "più-basso", "låg", "låga", "lågt", "lägre",
		"低い", "低め", "ロー", "低く", "낮게", "낮은", "로우")
	add(word{kind: short}, "short", "shorter", "kurz", "kürzer", "court", "courte", "plus-court", "corto", "corta", "más-corto", "più-corto", "kort", "korta", "kortare", "短い", "短め", "短く", "짧게", "짧은")

	add(word{kind: side, side: -1}, "left", "l", "links", "gauche", "izquierda", "izq", "sinistra", "sx", "vänster", "v", "左", "左へ", "左に", "왼쪽", "좌", "왼쪽으로")
	add(word{kind: side, side: 1}, "right", "r", "rechts", "droite", "derecha", "der", "destra", "dx", "höger", "h", "右", "右へ", "右に", "오른쪽", "우", "오른쪽으로")
	add(word{kind: side}, "on-line", "on-target", "at-target", "auf-ziel", "sur-cible", "al-objetivo", "sul-bersaglio", "på-mål")

	add(word{kind: unit, unit: "deg"}, "°", "deg", "degree", "degrees", "grad", "degré", "degrés", "grado", "grados", "gradi", "grader", "度", "도")
	add(word{kind: unit, unit: "yd"}, "yd", "yds", "yard", "yards", "y", "verge", "verges", "yarda", "yardas", "iarde", "iarda", "ヤード", "야드")
	add(word{kind: unit, unit: "m"}, "m", "metre", "metres", "meter", "meters", "mètre", "mètres", "metro", "metros", "metri", "メートル", "미터")
	add(word{kind: unit, unit: "ft"}, "ft", "feet", "foot", "fuß", "fot", "pieds", "pies", "piedi")

	add(word{kind: joiner}, "and", "then", "with", "und", "dann", "mit", "et", "puis", "avec", "y", "con", "e", "poi", "och", "med", "&", "+", "と", "그리고")
	add(word{kind: filler}, "a", "an", "the", "of", "to", "by", "it", "little", "bit", "small", "gentle", "slight", "slightly", "light", "tiny", "baby", "dead", "nice", "soft", "keep", "hit", "it", "flight", "direction", "ball-flight", "about", "ball", "balls", "shot", "shots", "yd.", "ein", "eine", "einen", "nach", "um", "von", "der", "die", "das", "ball", "schlag", "ein-wenig", "leichter", "leichtes", "kleiner", "kleines", "kleinen",
		"un", "une", "de", "à", "a-la", "la", "le", "vers", "balle", "coup", "léger", "petit", "petite", "una", "pequeño", "pequeña", "suave", "leggero", "leggera", "piccolo", "el", "hacia", "golpe", "bola", "il", "lo", "di", "verso", "colpo", "palla", "en", "ett", "åt", "till", "mot", "slag", "boll", "liten", "lätt", "の", "に", "へ", "を", "で", "ボール", "球", "軽い", "軽く", "弱い", "弾道", "약한", "가벼운", "공", "탄도", "볼", "구질", "로", "으로", "shape", "shaped", "side", "line", "linie", "ligne")
	return v
})

// phrases are words that mean something together, and words that are two, as they
// are looked up.
var phrases = strings.NewReplacer(
	"tout droit", "tout-droit", "balle droite", "droit", "plus haut", "plus-haut", "plus bas", "plus-bas", "plus court", "plus-court",
	"más alto", "más-alto", "más bajo", "más-bajo", "más corto", "más-corto", "più alto", "più-alto", "più basso", "più-basso", "più corto", "più-corto",
	"schnurgerade", "gerade", "linkskurve", "links kurve", "rechtskurve", "rechts kurve", "vänsterkurva", "vänster kurva", "högerkurva", "höger kurva",
	"knock down", "knock-down", "start line", "start-line", "peak height", "peak-height", "max height", "max-height",
	"on line", "on-line", "on target", "on-target", "at target", "at-target", "auf ziel", "auf-ziel", "sur cible", "sur-cible",
	"al objetivo", "al-objetivo", "sul bersaglio", "sul-bersaglio", "på mål", "på-mål", "ein wenig", "ein-wenig", "a la", "a-la",
)

var digraphs = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "å", "aa")

// bare is a word without its marks.
func bare(s string) string {
	s, _, err := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC), s)
	if err != nil {
		return s
	}
	return s
}

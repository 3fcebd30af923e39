package export

import "strings"

// summaryWords are what a row of statistics calls itself. A language or a word
// is added by a line.
var summaryWords = []string{
	"average, averages, avg, mean, means, median, std dev, stdev, std, standard deviation, deviation, sd, min, minimum, max, maximum, range, consistency, consistency ±, summary, sum, totals, best, worst, variance, session average, average all",
	"Durchschnitt, Mittelwert, Mittel, Schnitt, Standardabweichung, Streuung, Minimum, Maximum, Zusammenfassung, Spannweite, Ø, Median",
	"moyenne, médiane, écart type, écart-type, minimum, maximum, résumé, étendue",
	"media, promedio, mediana, desviación estándar, desviación típica, mínimo, máximo, resumen, rango",
	"media, mediana, deviazione standard, scarto tipo, minimo, massimo, riepilogo, intervallo",
	"medel, medelvärde, genomsnitt, snitt, median, standardavvikelse, minimum, maximum, sammanfattning, spridning",
	"平均, 平均値, 標準偏差, 中央値, 最小, 最大, 最小値, 最大値, 合計, 偏差",
	"평균, 평균값, 표준편차, 중앙값, 최소, 최대, 최솟값, 최댓값, 합계, 편차",
}

var isSummaryWord = func() map[string]bool {
	m := map[string]bool{}
	for _, line := range summaryWords {
		for w := range strings.SplitSeq(line, ", ") {
			m[squeezed(w)] = true
		}
	}
	delete(m, "")
	return m
}()

// isSummary reports whether a row calls itself a statistic of the others. The
// word counts anywhere but in a column naming sets, where it is a label like
// any other.
func (t *table) isSummary(r row) bool {
	for i, cell := range r.cells {
		if cell == "" || len(cell) > 40 || digit(cell[0]) || cell[0] == '-' {
			continue
		}
		if isSummaryWord[squeezed(strings.TrimRight(plainText(cell), ":"))] && !t.holdsLabels(i) {
			return true
		}
	}
	return false
}

func (t *table) holdsLabels(at int) bool {
	for _, c := range t.columns {
		if c.at == at {
			for _, f := range c.meaning.fields {
				if f == labelField || f == ignored {
					return true
				}
			}
		}
	}
	return false
}

func (t *table) dropStatistics(cs []column) []column { return cs }

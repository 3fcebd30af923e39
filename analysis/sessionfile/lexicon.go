package sessionfile

import (
	"maps"
	"slices"

	"rangepost/analysis"
)

// A headingLine is the words one language has for what a column holds: a
// number's key, or one of the keys in field.go.
type headingLine struct{ holds, language, words string }

// headingWords are all the lines: those of the table of numbers, and the
// lexicon's.
func headingWords() []headingLine {
	var lines []headingLine
	for _, n := range analysis.Numbers() {
		words := n.Info().Headings
		for _, language := range slices.Sorted(maps.Keys(words)) {
			lines = append(lines, headingLine{n.Info().Key, language, words[language]})
		}
	}
	return append(lines, lexicon...)
}

// lexicon is the table of header words beside those of the numbers, which
// stand in the number's row in package analysis. A line is: what the column
// holds, the language, and the words for it, separated by commas. Case,
// accents, spaces, hyphens and underscores do not matter ("Club-Speed" is
// "clubspeed"), and neither does a unit at the end or in brackets
// ("Carry (yd)").
//
// A new word goes into its line; a new language is a line per thing it has
// words for, in any order. Words that mean more than one thing name all of
// them, in the first column: the reader then looks which of them the file
// lacks, and asks if that does not settle it. "face_to_target" is face where
// the header itself says it is no face-to-path.
var lexicon = []headingLine{
	{"club", "en", "club, club type, club name, club used"},
	{"club", "de", "Schläger, Schlägertyp, Schlägername"},
	{"club", "fr", "club, nom du club, type de club, bâton"},
	{"club", "es", "palo, tipo de palo, nombre del palo"},
	{"club", "it", "bastone, mazza, tipo di bastone"},
	{"club", "sv", "klubba, klubbtyp, klubbnamn"},
	{"club", "ja", "クラブ, クラブ名, 番手, 使用クラブ"},
	{"club", "ko", "클럽, 클럽명, 클럽종류"},

	{"set", "en", "label, tag, tags, set, set name, group, drill"},
	{"set", "de", "Etikett, Serie, Gruppe, Übung, Satz"},
	{"set", "fr", "étiquette, série, groupe, exercice"},
	{"set", "es", "etiqueta, serie, grupo, ejercicio"},
	{"set", "it", "etichetta, serie, gruppo, esercizio"},
	{"set", "sv", "etikett, serie, grupp, övning"},
	{"set", "ja", "ラベル, タグ, セット, グループ"},
	{"set", "ko", "라벨, 태그, 세트, 그룹"},

	{"shot", "en", "shot, shot no, shot number, shot #, shot id, no, number, #, index, ball no"},
	{"shot", "de", "Schlag, Schlagnummer, Schlag Nr, Nr, Nummer"},
	{"shot", "fr", "coup, coup n°, numéro, numéro du coup, n°"},
	{"shot", "es", "golpe, número, número de golpe, nº"},
	{"shot", "it", "colpo, numero, numero colpo"},
	{"shot", "sv", "slag, slagnummer, slag nr, nummer"},
	{"shot", "ja", "ショット, ショット番号, 番号, 打数"},
	{"shot", "ko", "샷, 샷번호, 번호, 타수"},

	{"time flight", "en", "time"},
	{"time flight", "de", "Zeit"},
	{"time flight", "fr", "temps"},
	{"time flight", "es", "tiempo"},
	{"time flight", "it", "tempo"},
	{"time flight", "sv", "tid"},
	{"time flight", "ja", "時間"},
	{"time flight", "ko", "시간"},
	{"time", "en", "date, timestamp, date time, time stamp, shot time, time of day"},
	{"time", "de", "Datum, Uhrzeit, Zeitstempel, Zeitpunkt"},
	{"time", "fr", "date, heure, horodatage, date heure"},
	{"time", "es", "fecha, hora, fecha y hora"},
	{"time", "it", "data, ora, data e ora"},
	{"time", "sv", "datum, klockslag, tidpunkt"},
	{"time", "ja", "日時, 日付, 時刻"},
	{"time", "ko", "날짜, 일시, 시각"},

	{"face_to_target", "en", "face to target, face angle to target, face target, FTT"},
	{"face_to_target", "de", "Schlagfläche zum Ziel, Schlagfläche zu Ziel"},
	{"face_to_target", "fr", "face par rapport à la cible, face cible, face à la cible"},
	{"face_to_target", "es", "cara respecto al objetivo, cara al objetivo"},
	{"face_to_target", "it", "faccia rispetto al bersaglio, faccia al bersaglio"},
	{"face_to_target", "sv", "blad mot mål, blad till mål"},
	{"face_to_target", "ja", "フェーストゥターゲット, 目標に対するフェース"},
	{"face_to_target", "ko", "페이스 투 타겟, 목표 대비 페이스"},

	{"ball_speed club_speed", "en", "speed, velocity"},
	{"ball_speed club_speed", "de", "Geschwindigkeit"},
	{"ball_speed club_speed", "fr", "vitesse"},
	{"ball_speed club_speed", "es", "velocidad"},
	{"ball_speed club_speed", "it", "velocità"},
	{"ball_speed club_speed", "sv", "hastighet"},
	{"ball_speed club_speed", "ja", "スピード, 速度"},
	{"ball_speed club_speed", "ko", "스피드, 속도"},

	{"back_spin", "en", "back spin, spin back"},
	{"back_spin", "de", "Rückwärtsspin, Backspin"},
	{"back_spin", "fr", "backspin, rétro, effet rétro"},
	{"back_spin", "es", "backspin, efecto de retroceso, retroceso"},
	{"back_spin", "it", "backspin, rotazione inversa"},
	{"back_spin", "sv", "backspinn, bakåtspinn"},
	{"back_spin", "ja", "バックスピン, バックスピン量"},
	{"back_spin", "ko", "백스핀, 백 스핀"},

	{"side_spin", "en", "side spin, spin side"},
	{"side_spin", "de", "Seitenspin, Sidespin, Seitwärtsspin"},
	{"side_spin", "fr", "sidespin, effet latéral, spin latéral"},
	{"side_spin", "es", "sidespin, efecto lateral, spin lateral"},
	{"side_spin", "it", "sidespin, effetto laterale, spin laterale"},
	{"side_spin", "sv", "sidspinn, sidospinn"},
	{"side_spin", "ja", "サイドスピン, サイドスピン量"},
	{"side_spin", "ko", "사이드 스핀, 사이드스핀"},

	{"carry total", "en", "distance, dist"},
	{"carry total", "de", "Distanz, Entfernung, Weite"},
	{"carry total", "fr", "distance"},
	{"carry total", "es", "distancia"},
	{"carry total", "it", "distanza"},
	{"carry total", "sv", "avstånd, längd, distans"},
	{"carry total", "ja", "飛距離, 距離"},
	{"carry total", "ko", "비거리, 거리"},

	{"temperature", "en", "temperature, temp, air temperature"},
	{"temperature", "de", "Temperatur, Lufttemperatur"},
	{"temperature", "fr", "température, température de l'air"},
	{"temperature", "es", "temperatura, temperatura del aire"},
	{"temperature", "it", "temperatura, temperatura dell'aria"},
	{"temperature", "sv", "temperatur, lufttemperatur"},
	{"temperature", "ja", "気温, 温度"},
	{"temperature", "ko", "기온, 온도"},

	{"target", "en", "target distance, target carry, carry target, target yardage, intended carry, distance aimed at"},
	{"target", "de", "Zieldistanz, Zielentfernung, Zielweite"},
	{"target", "fr", "distance cible, distance visée"},
	{"target", "es", "distancia objetivo"},
	{"target", "it", "distanza obiettivo"},
	{"target", "sv", "målavstånd"},
	{"target", "ja", "目標距離"},
	{"target", "ko", "목표 거리"},

	{"altitude", "en", "altitude, elevation"},
	{"altitude", "de", "Höhenlage, Meereshöhe"},
	{"altitude", "fr", "altitude"},
	{"altitude", "es", "altitud"},
	{"altitude", "it", "altitudine, quota"},
	{"altitude", "sv", "höjd över havet, altitud"},
	{"altitude", "ja", "標高, 高度"},
	{"altitude", "ko", "고도, 해발"},

	{"wind_speed", "en", "wind speed, wind"},
	{"wind_speed", "de", "Windgeschwindigkeit, Wind"},
	{"wind_speed", "fr", "vitesse du vent, vent"},
	{"wind_speed", "es", "velocidad del viento, viento"},
	{"wind_speed", "it", "velocità del vento, vento"},
	{"wind_speed", "sv", "vindhastighet, vind"},
	{"wind_speed", "ja", "風速"},
	{"wind_speed", "ko", "풍속"},

	{"wind_from", "en", "wind direction, wind from"},
	{"wind_from", "de", "Windrichtung"},
	{"wind_from", "fr", "direction du vent"},
	{"wind_from", "es", "dirección del viento"},
	{"wind_from", "it", "direzione del vento"},
	{"wind_from", "sv", "vindriktning"},
	{"wind_from", "ja", "風向, 風向き"},
	{"wind_from", "ko", "풍향"},

	{"player", "en", "player, player name, name, golfer"},
	{"player", "de", "Spieler, Spielername, Name"},
	{"player", "fr", "joueur, nom, nom du joueur"},
	{"player", "es", "jugador, nombre, nombre del jugador"},
	{"player", "it", "giocatore, nome, nome giocatore"},
	{"player", "sv", "spelare, namn"},
	{"player", "ja", "プレーヤー, 名前, 氏名"},
	{"player", "ko", "선수, 이름, 플레이어"},

	{"ignore", "en", "note, notes, comment, comments, ball, ball type, humidity, pressure"},
	{"ignore", "de", "Notiz, Bemerkung, Kommentar, Balltyp"},
	{"ignore", "fr", "remarque, commentaire, note, type de balle"},
	{"ignore", "es", "nota, comentario, tipo de bola"},
	{"ignore", "it", "nota, commento, tipo di palla"},
	{"ignore", "sv", "anteckning, kommentar, bolltyp"},
	{"ignore", "ja", "メモ, コメント, 備考"},
	{"ignore", "ko", "메모, 비고"},
}

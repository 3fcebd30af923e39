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
// the header itself says it is no face-to-path, "target_distance" a target that
// cannot be what is left to it.
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

	{"target_distance", "en", "target distance, target carry, carry target, target yardage, intended carry, distance aimed at"},
	{"target_distance", "de", "Zieldistanz, Zielentfernung, Zielweite"},
	{"target_distance", "fr", "distance cible, distance visée"},
	{"target_distance", "es", "distancia objetivo"},
	{"target_distance", "it", "distanza obiettivo"},
	{"target_distance", "sv", "målavstånd"},
	{"target_distance", "ja", "目標距離"},
	{"target_distance", "ko", "목표 거리"},

	{"target", "en", "target, aim, aim distance, pin, pin distance, flag, flag distance, hole distance, distance to target, distance to pin, distance to flag, distance to hole"},
	{"target", "de", "Ziel, Fahnendistanz, Fahnenentfernung, Distanz zum Ziel, Entfernung zum Ziel, Distanz zur Fahne"},
	{"target", "fr", "cible, distance du drapeau, distance à la cible, distance au drapeau"},
	{"target", "es", "objetivo, distancia a bandera, distancia al objetivo, distancia a la bandera"},
	{"target", "it", "obiettivo, bersaglio, distanza bandiera, distanza dall'obiettivo, distanza dalla bandiera"},
	{"target", "sv", "mål, flaggavstånd, avstånd till mål, avstånd till flagga"},
	{"target", "ja", "目標, ターゲット, ピンまでの距離"},
	{"target", "ko", "목표, 타겟, 핀까지 거리"},

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

	{"head_wind", "en", "headwind, headwind speed, headwind component"},
	{"head_wind", "de", "Gegenwind, Gegenwindgeschwindigkeit"},
	{"head_wind", "fr", "vent de face"},
	{"head_wind", "es", "viento en contra, viento de cara"},
	{"head_wind", "it", "vento contrario, vento contro"},
	{"head_wind", "sv", "motvind"},
	{"head_wind", "ja", "向かい風"},
	{"head_wind", "ko", "맞바람, 앞바람"},

	{"tail_wind", "en", "tailwind, tailwind speed, tailwind component"},
	{"tail_wind", "de", "Rückenwind, Rückenwindgeschwindigkeit"},
	{"tail_wind", "fr", "vent arrière, vent de dos"},
	{"tail_wind", "es", "viento a favor"},
	{"tail_wind", "it", "vento a favore"},
	{"tail_wind", "sv", "medvind"},
	{"tail_wind", "ja", "追い風"},
	{"tail_wind", "ko", "뒷바람"},

	{"cross_wind", "en", "crosswind, crosswind speed, crosswind component, side wind"},
	{"cross_wind", "de", "Seitenwind, Querwind"},
	{"cross_wind", "fr", "vent latéral, vent de travers, vent de côté"},
	{"cross_wind", "es", "viento lateral, viento cruzado"},
	{"cross_wind", "it", "vento laterale, vento trasversale"},
	{"cross_wind", "sv", "sidvind"},
	{"cross_wind", "ja", "横風"},
	{"cross_wind", "ko", "옆바람"},

	{"cross_wind_left", "en", "crosswind from left, crosswind from the left, crosswind left to right, crosswind l to r, left crosswind"},
	{"cross_wind_left", "de", "Seitenwind von links"},
	{"cross_wind_left", "fr", "vent de gauche"},
	{"cross_wind_left", "es", "viento de la izquierda"},
	{"cross_wind_left", "it", "vento da sinistra"},
	{"cross_wind_left", "sv", "sidvind från vänster"},
	{"cross_wind_left", "ja", "左からの風"},
	{"cross_wind_left", "ko", "왼쪽 바람"},

	{"cross_wind_right", "en", "crosswind from right, crosswind from the right, crosswind right to left, crosswind r to l, right crosswind"},
	{"cross_wind_right", "de", "Seitenwind von rechts"},
	{"cross_wind_right", "fr", "vent de droite"},
	{"cross_wind_right", "es", "viento de la derecha"},
	{"cross_wind_right", "it", "vento da destra"},
	{"cross_wind_right", "sv", "sidvind från höger"},
	{"cross_wind_right", "ja", "右からの風"},
	{"cross_wind_right", "ko", "오른쪽 바람"},

	{"wind_to", "en", "wind to, wind towards, wind blowing to"},
	{"wind_to", "de", "Wind nach"},
	{"wind_to", "fr", "vent vers"},
	{"wind_to", "es", "viento hacia"},
	{"wind_to", "it", "vento verso"},
	{"wind_to", "sv", "vind mot"},
	{"wind_to", "ja", "風の行き先"},
	{"wind_to", "ko", "바람 가는 방향"},

	{"ball", "en", "ball, ball type, type of ball, kind of ball"},
	{"ball", "de", "Balltyp, Ballart"},
	{"ball", "fr", "type de balle"},
	{"ball", "es", "tipo de bola, tipo de pelota"},
	{"ball", "it", "tipo di palla"},
	{"ball", "sv", "bolltyp"},
	{"ball", "ja", "ボール種類"},
	{"ball", "ko", "볼 종류"},

	{"player", "en", "player, player name, name, golfer"},
	{"player", "de", "Spieler, Spielername, Name"},
	{"player", "fr", "joueur, nom, nom du joueur"},
	{"player", "es", "jugador, nombre, nombre del jugador"},
	{"player", "it", "giocatore, nome, nome giocatore"},
	{"player", "sv", "spelare, namn"},
	{"player", "ja", "プレーヤー, 名前, 氏名"},
	{"player", "ko", "선수, 이름, 플레이어"},

	{"ignore", "en", "note, notes, comment, comments, humidity, pressure"},
	{"ignore", "de", "Notiz, Bemerkung, Kommentar"},
	{"ignore", "fr", "remarque, commentaire, note"},
	{"ignore", "es", "nota, comentario"},
	{"ignore", "it", "nota, commento"},
	{"ignore", "sv", "anteckning, kommentar"},
	{"ignore", "ja", "メモ, コメント, 備考"},
	{"ignore", "ko", "메모, 비고"},
}

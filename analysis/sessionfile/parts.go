package sessionfile

import (
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// A part is what one word of a heading speaks of.
type part uint8

// The parts headings are made of: what is measured, which quantity of it, and
// which way. The row of a number, and otherFields, say which of them make it.
const (
	noPart part = iota
	ballPart
	clubPart
	facePart
	pathPart
	launchPart
	spinPart
	axisPart
	attackPart
	loftPart
	liePart
	strikePart
	toePart
	smashPart
	carryPart
	totalPart
	apexPart
	descentPart
	flightPart
	speedPart
	anglePart
	ratePart
	factorPart
	distancePart
	heightPart
	directionPart
	timePart
	sidePart
	verticalPart
	backPart
	maxPart
	dynamicPart
	deviationPart
	targetPart
	shotPart
	namePart
	dayPart
	windPart
	northPart
	warmthPart
	playerPart
	setPart
	otherPart   // a word for something else: the heading is none of ours
	unitPart    // a unit: it says nothing about what is measured
	againstPart // to, versus: what it is measured against
	fillPart    // of, the
	numParts    = int(iota)
)

// partKeys name the parts in the table of numbers.
var partKeys = [numParts]string{
	ballPart: "ball", clubPart: "club", facePart: "face", pathPart: "path", launchPart: "launch", spinPart: "spin", axisPart: "axis",
	attackPart: "attack", loftPart: "loft", liePart: "lie", strikePart: "strike", toePart: "toe", smashPart: "smash", carryPart: "carry",
	totalPart: "total", apexPart: "apex", descentPart: "descent", flightPart: "flight", speedPart: "speed", anglePart: "angle",
	ratePart: "rate", factorPart: "factor", distancePart: "distance", heightPart: "height", directionPart: "direction", timePart: "time",
	sidePart: "side", verticalPart: "vertical", backPart: "back", maxPart: "max", dynamicPart: "dynamic", deviationPart: "deviation",
	targetPart: "target", shotPart: "shot", namePart: "name", dayPart: "day", windPart: "wind", northPart: "north", warmthPart: "warmth", playerPart: "player",
	setPart: "set", otherPart: "other", unitPart: "unit", againstPart: "against", fillPart: "fill",
}

// partWords is the one table of the parts' words, with the abbreviations that
// no rule makes of them: a line has the language's words for a part, separated
// by commas. A new word goes into its line. Those of German and Swedish stand
// in compounds with or without a joining letter; accents do not matter.
var partWords = []struct {
	part            part
	language, words string
}{
	{ballPart, "en", "ball, golf ball, bll"},
	{ballPart, "de", "Ball, Golfball, Balls, Balles"},
	{ballPart, "fr", "balle"},
	{ballPart, "es", "bola, pelota"},
	{ballPart, "it", "palla, pallina"},
	{ballPart, "sv", "boll, golfboll, bollen, bollens"},
	{ballPart, "ja", "ボール, 球"},
	{ballPart, "ko", "볼, 공"},

	{clubPart, "en", "club, clubhead, club head, head, swing, clb, shaft head"},
	{clubPart, "de", "Schläger, Schlägerkopf, Schwung, Kopf, Schlägers"},
	{clubPart, "fr", "club, tête, bâton, swing"},
	{clubPart, "es", "palo, cabeza, swing"},
	{clubPart, "it", "bastone, mazza, testa, swing"},
	{clubPart, "sv", "klubba, klubb, klubbans, klubbhuvud, klubbhuvudets, huvud, sving, svingens, swing"},
	{clubPart, "ja", "クラブ, ヘッド, クラブヘッド, スイング, スウィング"},
	{clubPart, "ko", "클럽, 헤드, 클럽헤드, 스윙"},

	{facePart, "en", "face, clubface, fce, fc"},
	{facePart, "de", "Schlagfläche, Schlagflächen, Schlägerblatt, Schlägerfläche, Blatt, Face, Fläche, Flächen, Schlagfl"},
	{facePart, "fr", "face"},
	{facePart, "es", "cara"},
	{facePart, "it", "faccia, faccia del bastone"},
	{facePart, "sv", "blad, bladet, bladets, klubblad, klubbladet, klubbladets, träffyta, träffytan, träffytans"},
	{facePart, "ja", "フェース, フェイス"},
	{facePart, "ko", "페이스"},

	{pathPart, "en", "path, pth"},
	{pathPart, "de", "Bahn, Pfad, Schlägerweg, Schwungweg, Weg, Schwungbahn"},
	{pathPart, "fr", "chemin, trajectoire, plan de swing, parcours du club"},
	{pathPart, "es", "trayectoria, recorrido, camino, senda, ruta"},
	{pathPart, "it", "percorso, traiettoria, cammino"},
	{pathPart, "sv", "bana, banan, väg, svingväg, spår, svingspår"},
	{pathPart, "ja", "パス, 軌道"},
	{pathPart, "ko", "패스, 경로, 궤도, 궤적"},

	{launchPart, "en", "launch, takeoff, take off, start, starting, initial, lnch"},
	{launchPart, "de", "Abflug, Start, Abgang, Anfang, Anfangs"},
	{launchPart, "fr", "décollage, lancement, envol, départ, initial, initiale"},
	{launchPart, "es", "lanzamiento, salida, despegue, inicial, inicio"},
	{launchPart, "it", "lancio, partenza, decollo, iniziale, avvio"},
	{launchPart, "sv", "utgång, utgångs, start, starten, uppskjut, initial"},
	{launchPart, "ja", "打ち出し, 打出し, 打出, 打ちだし, ローンチ, ランチ, 出球"},
	{launchPart, "ko", "발사, 런치, 출발, 탄도, 초기, 이륙"},

	{spinPart, "en", "spin, rotation, spn"},
	{spinPart, "de", "Spin, Drall, Dreh, Drehung, Rotation, Rotations"},
	{spinPart, "fr", "spin, effet, rotation"},
	{spinPart, "es", "spin, efecto, rotación, giro"},
	{spinPart, "it", "spin, effetto, rotazione"},
	{spinPart, "sv", "spinn, spin, skruv, rotation, rotations"},
	{spinPart, "ja", "スピン, 回転"},
	{spinPart, "ko", "스핀, 회전"},

	{axisPart, "en", "axis, tilt, ax, axs"},
	{axisPart, "de", "Achse, Achs, Achsen, Neigung, Neigungs, Kippung"},
	{axisPart, "fr", "axe, inclinaison"},
	{axisPart, "es", "eje, inclinación"},
	{axisPart, "it", "asse, inclinazione"},
	{axisPart, "sv", "axel, axelns, lutning, lutnings"},
	{axisPart, "ja", "軸, アクシス, 傾き"},
	{axisPart, "ko", "축, 액시스, 기울기"},

	{attackPart, "en", "attack, attck, atk, approach"},
	{attackPart, "de", "Angriff, Angriffs, Eintreff, Anstell, Attack, Attacke"},
	{attackPart, "fr", "attaque"},
	{attackPart, "es", "ataque"},
	{attackPart, "it", "attacco"},
	{attackPart, "sv", "attack, attacken, anfall, anfalls"},
	{attackPart, "ja", "アタック, 入射"},
	{attackPart, "ko", "어택, 입사, 공격"},

	{loftPart, "en", "loft, lft"},
	{loftPart, "de", "Loft"},
	{loftPart, "sv", "loft"},
	{loftPart, "ja", "ロフト"},
	{loftPart, "ko", "로프트"},
	{liePart, "en", "lie"},
	{liePart, "ja", "ライ"},
	{liePart, "ko", "라이"},

	{strikePart, "en", "impact, strike, contact, hit, imp, strk, impct"},
	{strikePart, "de", "Treffpunkt, Treffer, Treff, Impact, Treffmoment, Aufprall"},
	{strikePart, "fr", "impact, frappe, contact, point d'impact"},
	{strikePart, "es", "impacto, golpeo, contacto, punto de impacto"},
	{strikePart, "it", "impatto, contatto, punto d'impatto"},
	{strikePart, "sv", "träff, träffpunkt, träffpunkten, träffläge, impact"},
	{strikePart, "ja", "打点, インパクト"},
	{strikePart, "ko", "임팩트, 타점, 타격"},

	{toePart, "en", "toe, heel"},
	{toePart, "de", "Spitze, Ferse, Hacke"},
	{toePart, "fr", "pointe, talon"},
	{toePart, "es", "punta, talón"},
	{toePart, "it", "punta, tacco"},
	{toePart, "sv", "tå, häl"},
	{toePart, "ja", "トゥ, トウ, ヒール"},
	{toePart, "ko", "토우, 힐, 토"},

	{smashPart, "en", "smash, smsh, efficiency, quality of strike"},
	{smashPart, "fr", "qualité de frappe, efficacité"},
	{smashPart, "es", "eficiencia"},
	{smashPart, "it", "efficienza"},
	{smashPart, "de", "Effizienz"},
	{smashPart, "sv", "effektivitet"},
	{smashPart, "ja", "スマッシュ, ミート"},
	{smashPart, "ko", "스매시, 스매쉬, 정타"},

	{carryPart, "en", "carry, cry, carried"},
	{carryPart, "fr", "portée, carry"},
	{carryPart, "sv", "bär, carry"},
	{carryPart, "ja", "キャリー"},
	{carryPart, "ko", "캐리"},

	{totalPart, "en", "total, overall, tot, ttl, rest, end, final, finish, roll out"},
	{totalPart, "de", "Gesamt, Total, gesamte, gesamter, ges, Ende, End, Endlage"},
	{totalPart, "fr", "total, totale, tot, arrêt, finale"},
	{totalPart, "es", "total, tot, final"},
	{totalPart, "it", "totale, tot, complessiva, complessivo, finale"},
	{totalPart, "sv", "total, totalt, totala, tot, slutlig, slut"},
	{totalPart, "ja", "トータル, 総, 合計, 全"},
	{totalPart, "ko", "토탈, 토털, 총, 전체, 합계"},

	{apexPart, "en", "apex, peak, pk, summit, vertex, top, zenith, apx"},
	{apexPart, "de", "Scheitel, Scheitelpunkt, Gipfel, Höchstpunkt, Apex"},
	{apexPart, "fr", "apex, flèche, sommet, apogée"},
	{apexPart, "es", "ápice, vértice, cima, pico, apogeo"},
	{apexPart, "it", "apice, vertice, culmine, picco"},
	{apexPart, "sv", "apex, topp, toppen, högsta punkt, högstapunkt"},
	{apexPart, "ja", "最高点, 頂点, 最高到達点, 到達点, 頂, 到達"},
	{apexPart, "ko", "최고점, 정점, 꼭짓점"},

	{descentPart, "en", "descent, descending, landing, land, entry, desc, decent"},
	{descentPart, "de", "Landung, Landungs, Lande, Abstieg, Abstiegs, Fall, Eintauch, Auftreff, Sink, Sinkflug, Einfall, Einfalls"},
	{descentPart, "fr", "descente, atterrissage, chute"},
	{descentPart, "es", "descenso, caída, aterrizaje"},
	{descentPart, "it", "discesa, atterraggio, caduta"},
	{descentPart, "sv", "landning, landnings, nedslag, nedslags, fall, nedstignings"},
	{descentPart, "ja", "落下, 着地, ランディング, 下降, 降下, 落ち際, 落ち, 降り"},
	{descentPart, "ko", "낙하, 착지, 랜딩, 하강, 떨어지는, 떨어짐, 떨어질 때"},

	{flightPart, "en", "flight, air, hang, flt, airborne"},
	{flightPart, "de", "Flug, Luft"},
	{flightPart, "fr", "vol, air"},
	{flightPart, "es", "vuelo, aire"},
	{flightPart, "it", "volo, aria"},
	{flightPart, "sv", "flyg, luft, luften, flykt, häng"},
	{flightPart, "ja", "滞空, 飛行, フライト, 空中"},
	{flightPart, "ko", "체공, 비행, 공중, 탄도"}, // the path of the ball, which has an angle and a height

	{speedPart, "en", "speed, velocity, vel, spd, velo"},
	{speedPart, "de", "Geschwindigkeit, Geschw, Tempo, Speed"},
	{speedPart, "fr", "vitesse, vit"},
	{speedPart, "es", "velocidad, vel"},
	{speedPart, "it", "velocità, vel"},
	{speedPart, "sv", "hastighet, hast, fart, hastigheten"},
	{speedPart, "ja", "スピード, 速度, 初速, 速"},
	{speedPart, "ko", "스피드, 속도, 초속"},

	{anglePart, "en", "angle, ang, angl, agl, agle"},
	{anglePart, "de", "Winkel, Wkl, Stellung"},
	{anglePart, "fr", "angle, ang"},
	{anglePart, "es", "ángulo, ang"},
	{anglePart, "it", "angolo, ang"},
	{anglePart, "sv", "vinkel, vinkeln, vink"},
	{anglePart, "ja", "角度, 角, アングル"},
	{anglePart, "ko", "각도, 각, 앵글"},

	{ratePart, "en", "rate, amount, rt"},
	{ratePart, "de", "Rate, Zahl, Menge"},
	{ratePart, "fr", "taux, quantité"},
	{ratePart, "es", "tasa, cantidad, índice de giro"},
	{ratePart, "it", "tasso, quantità"},
	{ratePart, "sv", "rate, mängd, varvtal, hastighetstal"},
	{ratePart, "ja", "量, レート, 数"},
	{ratePart, "ko", "량, 레이트, 수"},

	{factorPart, "en", "factor, ratio, index, idx, fact, fctr"},
	{factorPart, "de", "Faktor, Verhältnis, Quotient, Koeffizient"},
	{factorPart, "fr", "facteur, ratio, rapport, indice, coefficient"},
	{factorPart, "es", "factor, ratio, relación, índice, coeficiente"},
	{factorPart, "it", "fattore, rapporto, indice, coefficiente"},
	{factorPart, "sv", "faktor, kvot, koefficient"},
	{factorPart, "ja", "ファクター, 率, 係数"},
	{factorPart, "ko", "팩터, 지수, 비율, 율, 계수"},

	{distancePart, "en", "distance, dist, length, dst, range, yardage"},
	{distancePart, "de", "Distanz, Entfernung, Weite, Länge, Strecke, Dist"},
	{distancePart, "fr", "distance, longueur, dist"},
	{distancePart, "es", "distancia, longitud, dist, largo, alcance"},
	{distancePart, "it", "distanza, lunghezza, dist, gittata"},
	{distancePart, "sv", "avstånd, längd, distans, sträcka"},
	{distancePart, "ja", "距離, 飛距離"},
	{distancePart, "ko", "거리, 비거리"},

	{heightPart, "en", "height, hgt, ht"},
	{heightPart, "de", "Höhe, Höhen"},
	{heightPart, "fr", "hauteur, haut"},
	{heightPart, "es", "altura, alt"},
	{heightPart, "it", "altezza, alt"},
	{heightPart, "sv", "höjd, höjden"},
	{heightPart, "ja", "高さ, 高"},
	{heightPart, "ko", "높이"},

	{directionPart, "en", "direction, dir, line, ln, azimuth, drctn, azi, orientation, heading"},
	{directionPart, "de", "Richtung, Richtungs, Linie, Azimut, Richt, Ausrichtung, Orientierung"},
	{directionPart, "fr", "direction, dir, ligne, azimut, orientation"},
	{directionPart, "es", "dirección, dir, línea, azimut, orientación, sentido"},
	{directionPart, "it", "direzione, dir, linea, azimut, orientamento, verso"},
	{directionPart, "sv", "riktning, riktningen, rikt, linje, linjen, azimut, orientering, inriktning"},
	{directionPart, "ja", "方向, 向き, ディレクション, ライン, 方位"},
	{directionPart, "ko", "방향, 디렉션, 라인, 방위"},

	{timePart, "en", "time, duration"},
	{timePart, "de", "Zeit, Dauer"},
	{timePart, "fr", "temps, temp, durée"},
	{timePart, "es", "tiempo, duración"},
	{timePart, "it", "tempo, durata"},
	{timePart, "sv", "tid, tiden"},
	{timePart, "ja", "時間, タイム"},
	{timePart, "ko", "시간, 타임"},

	{sidePart, "en", "side, lateral, horizontal, horiz, hor, hz, sideways, left right, lr, rl, crosswise, lateral offset"},
	{sidePart, "de", "seitlich, seitliche, seitlicher, Seite, Seiten, seitwärts, lateral, laterale, horizontal, horizontaler, horizontale, quer, links rechts"},
	{sidePart, "fr", "latéral, latérale, côté, horizontal, horizontale, gauche droite"},
	{sidePart, "es", "lateral, lado, horizontal, izquierda derecha"},
	{sidePart, "it", "laterale, lato, orizzontale, sinistra destra"},
	{sidePart, "sv", "sida, sido, sid, sidled, sidleds, lateral, lateralt, horisontell, horisontal, horisontellt, vänster höger"},
	{sidePart, "ja", "左右, サイド, 横, 水平, よこ"},
	{sidePart, "ko", "좌우, 사이드, 수평, 측면, 가로, 옆"},

	{verticalPart, "en", "vertical, vert, vrt, up down, elevation angle, elevation"},
	{verticalPart, "de", "vertikal, vertikaler, vertikale, senkrecht"},
	{verticalPart, "fr", "vertical, verticale"},
	{verticalPart, "es", "vertical"},
	{verticalPart, "it", "verticale"},
	{verticalPart, "sv", "vertikal, vertikalt, vertikalled, höjdled"},
	{verticalPart, "ja", "上下, 垂直, 縦, 鉛直"},
	{verticalPart, "ko", "상하, 수직, 세로"},

	{backPart, "en", "back, bck"},
	{backPart, "de", "rückwärts, Rück"},
	{backPart, "fr", "rétro, arrière"},
	{backPart, "es", "retroceso, retro, atrás"},
	{backPart, "it", "inversa, inverso, retro"},
	{backPart, "sv", "bakåt, bak"},
	{backPart, "ja", "バック"},
	{backPart, "ko", "백"},

	{maxPart, "en", "max, maximum, maximal, highest"},
	{maxPart, "de", "max, maximale, maximaler, maximal, höchste, größte"},
	{maxPart, "fr", "max, maximale, maximal, maximum, maxi"},
	{maxPart, "es", "máx, máxima, máximo"},
	{maxPart, "it", "max, massima, massimo"},
	{maxPart, "sv", "max, maximal, högsta, maxi"},
	{maxPart, "ja", "最大, 最高"},
	{maxPart, "ko", "최대, 최고"},

	{dynamicPart, "en", "dynamic, dyn, delivered, effective, dynm"},
	{dynamicPart, "de", "dynamischer, dynamisch, dynamische, effektiver, dyn, effektive, wirksamer"},
	{dynamicPart, "fr", "dynamique, dyn, effectif, effective, délivré, présenté"},
	{dynamicPart, "es", "dinámico, dinámica, din, efectivo, entregado, real"},
	{dynamicPart, "it", "dinamico, dinamica, din, effettivo, consegnato, erogato"},
	{dynamicPart, "sv", "dynamiskt, dynamisk, dyn, effektivt, levererat, verkligt"},
	{dynamicPart, "ja", "ダイナミック, 動的, 実効, 有効"},
	{dynamicPart, "ko", "다이나믹, 다이내믹, 동적, 유효, 실효"},

	{deviationPart, "en", "deviation, offline, off line, off, offset, dispersion, miss, drift, deviat, offln"},
	{deviationPart, "de", "Abweichung, Versatz, Ablage, Abw"},
	{deviationPart, "fr", "écart, déviation, décalage"},
	{deviationPart, "es", "desviación, desvío, desplazamiento, desv"},
	{deviationPart, "it", "deviazione, scostamento, scarto, dev"},
	{deviationPart, "sv", "avvikelse, avvikelsen, avv, avstick"},
	{deviationPart, "ja", "ズレ, ずれ, ブレ, ぶれ, 偏差, 曲がり幅, 差, 誤差"},
	{deviationPart, "ko", "편차, 이탈, 오차, 벗어남, 차이, 차"},

	{targetPart, "en", "target, tgt, trgt"},
	{targetPart, "de", "Ziel, Zieles, Ziellinie"},
	{targetPart, "fr", "cible"},
	{targetPart, "es", "objetivo"},
	{targetPart, "it", "bersaglio, obiettivo"},
	{targetPart, "sv", "mål, målet, mållinjen, mållinje"},
	{targetPart, "ja", "目標, ターゲット"},
	{targetPart, "ko", "타겟, 목표, 타깃"},

	{shotPart, "en", "shot, stroke, nr, no, num, number, index, idx, id, seq"},
	{shotPart, "de", "Schlag, Nummer, lfd"},
	{shotPart, "fr", "coup, numéro, num"},
	{shotPart, "es", "golpe, número, núm, tiro"},
	{shotPart, "it", "colpo, numero, tiro"},
	{shotPart, "sv", "slag, nummer"},
	{shotPart, "ja", "ショット, 番号, 打数"},
	{shotPart, "ko", "샷, 번호, 타수"},

	{namePart, "en", "name, type, model, used"},
	{namePart, "de", "Name, Typ, Modell"},
	{namePart, "fr", "nom, type, modèle"},
	{namePart, "es", "nombre, tipo, modelo"},
	{namePart, "it", "nome, tipo, modello"},
	{namePart, "sv", "namn, typ, modell"},
	{namePart, "ja", "名, 種類, 使用"},
	{namePart, "ko", "명, 종류, 이름"},

	{dayPart, "en", "date, timestamp, day, clock"},
	{dayPart, "de", "Datum, Uhrzeit, Uhr, Tag, Zeitstempel"},
	{dayPart, "fr", "date, heure, jour"},
	{dayPart, "es", "fecha, hora, día"},
	{dayPart, "it", "data, ora, giorno"},
	{dayPart, "sv", "datum, klockslag, dag"},
	{dayPart, "ja", "日付, 日時, 時刻, 日"},
	{dayPart, "ko", "날짜, 일시, 시각"},

	{windPart, "en", "wind"},
	{windPart, "de", "Wind"},
	{windPart, "fr", "vent"},
	{windPart, "es", "viento"},
	{windPart, "it", "vento"},
	{windPart, "sv", "vind"},
	{windPart, "ja", "風"},
	{windPart, "ko", "바람, 풍"},

	{northPart, "en", "north, true north, compass, bearing"},
	{northPart, "de", "Nord, Norden"},
	{northPart, "fr", "nord"},
	{northPart, "es", "norte"},
	{northPart, "it", "nord"},
	{northPart, "sv", "norr"},
	{northPart, "ja", "北"},
	{northPart, "ko", "북, 북쪽"},

	{warmthPart, "en", "temperature, temp"},
	{warmthPart, "de", "Temperatur, Temp"},
	{warmthPart, "fr", "température"},
	{warmthPart, "es", "temperatura"},
	{warmthPart, "sv", "temperatur"},
	{warmthPart, "ja", "気温, 温度"},
	{warmthPart, "ko", "기온, 온도"},

	{playerPart, "en", "player, golfer"},
	{playerPart, "de", "Spieler"},
	{playerPart, "fr", "joueur"},
	{playerPart, "es", "jugador"},
	{playerPart, "it", "giocatore"},
	{playerPart, "sv", "spelare"},
	{playerPart, "ja", "プレーヤー, 氏名"},
	{playerPart, "ko", "선수, 플레이어"},

	{setPart, "en", "set, group, label, tag, tags, drill"},
	{setPart, "de", "Serie, Gruppe, Etikett, Übung"},
	{setPart, "fr", "série, groupe, étiquette, exercice"},
	{setPart, "es", "serie, grupo, etiqueta, ejercicio"},
	{setPart, "it", "serie, gruppo, etichetta, esercizio"},
	{setPart, "sv", "serie, grupp, etikett, övning"},
	{setPart, "ja", "ラベル, タグ, セット, グループ"},
	{setPart, "ko", "라벨, 태그, 세트, 그룹"},

	// Words that make a heading something else, so that none of them is taken
	// for an abbreviation or a slip of another.
	{otherPart, "en", "note, notes, comment, humidity, pressure, video, link, url, image, photo, average, avg, mean, median, std, rank, record, wear, score, points, roll, run, bounce, backswing, downswing, tempo, ratio of swing, curve, curvature, shape, swing plane, plane, low point, closure, acceleration, session, location, place, bay, mat, device, battery, status, valid, quality, favourite, altitude, density, lane, hand, handed, model, sound, class, level, min, minimum, handle, grip, gender, age, weight, energy, sdev"},
	{otherPart, "de", "Notiz, Kommentar, Bemerkung, Luftdruck, Luftfeuchte, Luftfeuchtigkeit, Druck, Mittelwert, Durchschnitt, Rang, Kurve, Rollweite, Ausrollen, Roll, Ort, Platz, Bild, Video, Ebene, Rückschwung, Höhenlage, Punkte, Hand, Bewertung"},
	{otherPart, "fr", "remarque, commentaire, humidité, pression, moyenne, rang, courbe, roule, lieu, vidéo, image, points, altitude, main, lien"},
	{otherPart, "es", "nota, comentario, humedad, presión, media, promedio, rango, curva, rodada, lugar, vídeo, imagen, puntos, altitud, mano, enlace"},
	{otherPart, "it", "nota, commento, umidità, pressione, media, curva, rotolo, rotolamento, luogo, video, immagine, punti, altitudine, mano"},
	{otherPart, "sv", "anteckning, kommentar, luftfuktighet, fuktighet, lufttryck, tryck, medel, medelvärde, kurva, rull, rullning, plats, video, bild, poäng, hand, länk"},
	{otherPart, "ja", "メモ, コメント, 備考, 湿度, 気圧, 平均, 動画, 画像, ラン, 場所, 評価, 標高, 点数"},
	{otherPart, "ko", "메모, 비고, 습도, 기압, 평균, 영상, 동영상, 이미지, 런, 장소, 점수, 고도"},

	{againstPart, "en", "to, vs, versus, against, relative, rel, minus"},
	{againstPart, "de", "zum, zur, zu, gegen, gegenüber, relativ"},
	{againstPart, "fr", "par rapport à, par rapport, rapport, relatif, relative, vs"},
	{againstPart, "es", "respecto, relativo, relativa, resp"},
	{againstPart, "it", "rispetto, relativo, relativa"},
	{againstPart, "sv", "mot, till, relativt, relativ"},
	{againstPart, "ja", "に対する, 対, トゥー"},
	{againstPart, "ko", "대비, 투, 대한"},

	{fillPart, "en", "of, the, at, from, and, by, in, out, on, point, data, value, measured, val"},
	{fillPart, "de", "der, die, das, dem, den, im, am, beim, von, vom, und, mit, Punkt, Wert, bei"},
	{fillPart, "fr", "de, du, la, le, les, l, d, au, à, a, et, sur, en, point, valeur"},
	{fillPart, "es", "de, del, la, el, los, las, al, a, con, y, en, punto, valor"},
	{fillPart, "it", "di, del, della, dello, dell, dei, al, alla, allo, all, a, il, la, lo, e, in, punto, valore, d"},
	{fillPart, "sv", "av, i, på, vid, för, och, den, det, från, punkt, värde"},
	{fillPart, "ja", "の, する, 時, への"},
	{fillPart, "ko", "의, 에, 시, 대"},
}

// A partWord is a word of the table, spelled as it is looked up.
type partWord struct {
	part     part
	language string
}

// partsBySpelling looks a word up. Umlauts may be written out, long vowels short.
var partsBySpelling = sync.OnceValue(func() map[string][]partWord {
	m := map[string][]partWord{}
	add := func(spelling string, w partWord) {
		if spelling != "" && !slices.ContainsFunc(m[spelling], func(o partWord) bool { return o == w }) {
			m[spelling] = append(m[spelling], w)
		}
	}
	for _, line := range partWords {
		for word := range strings.SplitSeq(line.words, ", ") {
			w := partWord{line.part, line.language}
			add(squeezed(word), w)
			add(squeezed(writtenOut.Replace(word)), w)
			if short := strings.ReplaceAll(squeezed(word), "ー", ""); utf8.RuneCountInString(short) > 2 { // "キャリ"
				add(short, w)
			}
		}
	}
	return m
})

var writtenOut = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue", "å", "aa")

package sessionfile

import "strings"

// wordings are header words as people who never saw the lexicon would write
// them, by language. Two lists a language where the trade has two ways.
var wordings = func() []map[field]string {
	var all []map[field]string
	for _, block := range []string{
		`club=Club; set=Label; shot=Shot; time=Date; club_speed=Club Speed; attack=Attack Angle; path=Club Path; face=Face Angle; face_to_path=Face To Path; dynamic_loft=Dynamic Loft; ball_speed=Ball Speed; smash=Smash Factor; launch=Launch Angle; direction=Launch Direction; spin=Spin Rate; spin_axis=Spin Axis; carry=Carry; total=Total; lateral=Side; lateral_total=Total Side; apex=Apex; descent=Landing Angle; flight=Hang Time; strike_toe=Impact Offset; strike_up=Impact Height; back_spin=Back Spin; side_spin=Side Spin`,
		`club=club_name; set=tag; shot=shot_no; time=timestamp; club_speed=club_head_speed; attack=angle_of_attack; path=swing_path; face=club_face; face_to_path=face_path; dynamic_loft=delivered_loft; ball_speed=ball_speed; smash=smash; launch=vertical_launch; direction=horizontal_launch; spin=total_spin; spin_axis=spin_tilt; carry=carry_distance; total=total_distance; lateral=offline; lateral_total=total_offline; apex=max_height; descent=descent_angle; flight=flight_time; strike_toe=horizontal_impact; strike_up=vertical_impact; back_spin=backspin; side_spin=sidespin`,
		`club=CLUB TYPE; set=GROUP; shot=#; time=DATE TIME; club_speed=CLUBHEAD SPEED; attack=AOA; path=PATH; face=FACE; face_to_path=FACE ANGLE TO PATH; dynamic_loft=DYN. LOFT; ball_speed=BALL SPEED; smash=SMASH; launch=LAUNCH; direction=START LINE; spin=SPIN; spin_axis=AXIS; carry=CARRY DIST.; total=TOTAL DIST.; lateral=LATERAL; lateral_total=LATERAL TOTAL; apex=HEIGHT; descent=LANDING ANGLE; flight=FLIGHT TIME; strike_toe=HEEL-TOE; strike_up=STRIKE HEIGHT; back_spin=BACKSPIN; side_spin=SIDESPIN`,
		`club=Schläger; set=Serie; shot=Schlag; time=Datum; club_speed=Schlägerkopfgeschwindigkeit; attack=Eintreffwinkel; path=Schwungbahn; face=Schlagfläche; face_to_path=Schlagfläche zur Bahn; dynamic_loft=Dynamischer Loft; ball_speed=Ballgeschwindigkeit; smash=Smash-Faktor; launch=Abflugwinkel; direction=Startrichtung; spin=Spinrate; spin_axis=Spinachse; carry=Fluglänge; total=Gesamtlänge; lateral=Seitenabweichung; lateral_total=Seitenabweichung gesamt; apex=Scheitelhöhe; descent=Landewinkel; flight=Flugzeit; strike_toe=Treffpunkt horizontal; strike_up=Treffpunkt vertikal; back_spin=Backspin; side_spin=Seitenspin`,
		`club=Bâton; set=Série; shot=Coup; time=Date; club_speed=Vitesse de la tête de club; attack=Angle d'attaque; path=Chemin du club; face=Angle de face; face_to_path=Face par rapport au chemin; dynamic_loft=Loft dynamique; ball_speed=Vitesse de balle; smash=Ratio de frappe; launch=Angle de décollage; direction=Direction de départ; spin=Taux de spin; spin_axis=Axe de rotation; carry=Portée; total=Distance totale; lateral=Écart latéral; lateral_total=Écart latéral total; apex=Hauteur max; descent=Angle de descente; flight=Temps de vol; strike_toe=Impact horizontal; strike_up=Impact vertical; back_spin=Backspin; side_spin=Spin latéral`,
		`club=Palo; set=Grupo; shot=Golpe; time=Fecha; club_speed=Velocidad del palo; attack=Ángulo de ataque; path=Trayectoria del palo; face=Ángulo de la cara; face_to_path=Cara a la trayectoria; dynamic_loft=Loft dinámico; ball_speed=Velocidad de la bola; smash=Factor smash; launch=Ángulo de lanzamiento; direction=Dirección de salida; spin=Tasa de spin; spin_axis=Eje de rotación; carry=Vuelo; total=Distancia total; lateral=Desviación lateral; lateral_total=Desviación total; apex=Altura máxima; descent=Ángulo de descenso; flight=Tiempo de vuelo; strike_toe=Impacto horizontal; strike_up=Impacto vertical; back_spin=Backspin; side_spin=Spin lateral`,
		`club=Bastone; set=Gruppo; shot=Colpo; time=Data; club_speed=Velocità del bastone; attack=Angolo di attacco; path=Percorso del bastone; face=Angolo della faccia; face_to_path=Faccia rispetto al percorso; dynamic_loft=Loft dinamico; ball_speed=Velocità della palla; smash=Fattore smash; launch=Angolo di lancio; direction=Direzione di partenza; spin=Rotazione; spin_axis=Asse di rotazione; carry=Volo; total=Distanza totale; lateral=Deviazione laterale; lateral_total=Deviazione laterale totale; apex=Altezza massima; descent=Angolo di discesa; flight=Tempo di volo; strike_toe=Impatto orizzontale; strike_up=Impatto verticale; back_spin=Backspin; side_spin=Spin laterale`,
		`club=Klubba; set=Övning; shot=Slag; time=Datum; club_speed=Klubbhastighet; attack=Attackvinkel; path=Svingbana; face=Bladvinkel; face_to_path=Blad mot bana; dynamic_loft=Dynamiskt loft; ball_speed=Bollhastighet; smash=Smashfaktor; launch=Utgångsvinkel; direction=Startriktning; spin=Spinn; spin_axis=Spinnaxel; carry=Carry; total=Totallängd; lateral=Sidoavvikelse; lateral_total=Total sidoavvikelse; apex=Höjd; descent=Landningsvinkel; flight=Flygtid; strike_toe=Träff horisontellt; strike_up=Träff vertikalt; back_spin=Backspinn; side_spin=Sidspinn`,
		`club=番手; set=ラベル; shot=番号; time=日時; club_speed=ヘッドスピード; attack=入射角; path=クラブパス; face=フェースアングル; face_to_path=フェーストゥパス; dynamic_loft=ダイナミックロフト; ball_speed=ボール初速; smash=ミート率; launch=打ち出し角; direction=打ち出し方向; spin=スピン量; spin_axis=スピン軸; carry=キャリー; total=トータル; lateral=左右ブレ; lateral_total=トータルサイド; apex=最高到達点; descent=落下角度; flight=滞空時間; strike_toe=打点左右; strike_up=打点上下; back_spin=バックスピン; side_spin=サイドスピン`,
		`club=클럽; set=그룹; shot=번호; time=날짜; club_speed=클럽 스피드; attack=어택 앵글; path=클럽 패스; face=페이스 앵글; face_to_path=페이스 투 패스; dynamic_loft=다이나믹 로프트; ball_speed=볼 스피드; smash=스매시 팩터; launch=발사각; direction=발사 방향; spin=스핀량; spin_axis=스핀축; carry=캐리; total=총 거리; lateral=좌우 편차; lateral_total=총 좌우 편차; apex=최고점; descent=낙하각; flight=체공 시간; strike_toe=타점 좌우; strike_up=타점 상하; back_spin=백스핀; side_spin=사이드 스핀`,
	} {
		m := map[field]string{}
		for pair := range strings.SplitSeq(block, "; ") {
			key, word, _ := strings.Cut(pair, "=")
			f, ok := fieldByKey(key)
			if !ok {
				panic(key)
			}
			m[f] = word
		}
		all = append(all, m)
	}
	return all
}()

// clubWordings are the driver and the 7-iron as each of the wordings' speakers
// writes them.
var clubWordings = [][2]string{
	{"Driver", "7 Iron"}, {"D", "7i"}, {"DR", "IRON 7"}, {"Driver", "Eisen 7"}, {"Driver", "Fer 7"}, {"Driver", "Hierro 7"},
	{"Driver", "Ferro 7"}, {"Driver", "Järn 7"}, {"ドライバー", "7番アイアン"}, {"드라이버", "7번 아이언"},
}

// sideLetters are the letters for right and left of each, "" where letters are
// not usual.
var sideLetters = [][2]string{{"R", "L"}, {"R", "L"}, {"Right", "Left"}, {"R", "L"}, {"D", "G"}, {"D", "I"}, {"D", "S"}, {"H", "V"}, {"右", "左"}, {"우", "좌"}}

var meanWords = []string{"Average", "AVG", "Mean", "Mittelwert", "Moyenne", "Promedio", "Media", "Medel", "平均", "평균"}

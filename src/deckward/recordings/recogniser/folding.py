"""Bring the words of many scripts into small Latin letters, so that they can be compared."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

_LATIN = str.maketrans(
    {
        "ß": "ss", "ł": "l", "ø": "o", "æ": "a", "œ": "o", "đ": "d", "ı": "i", "þ": "th", "ð": "d",
        "а": "a", "б": "b", "в": "v", "г": "g", "д": "d", "е": "e", "ё": "e", "ж": "zh", "з": "z",
        "и": "i", "й": "y", "к": "k", "л": "l", "м": "m", "н": "n", "о": "o", "п": "p", "р": "r",
        "с": "s", "т": "t", "у": "u", "ф": "f", "х": "kh", "ц": "ts", "ч": "ch", "ш": "sh", "щ": "shch",
        "ъ": "", "ы": "y", "ь": "", "э": "e", "ю": "yu", "я": "ya", "і": "i", "ї": "yi", "є": "ye",
        "ґ": "g", "ј": "j", "љ": "lj", "њ": "nj", "ћ": "c", "ђ": "d", "џ": "dz",
        "α": " alpha ", "β": " beta ", "θ": " theta ", "φ": " phi ", "ϕ": " phi ", "ψ": " psi ",
        "λ": " lambda ", "γ": " gamma ", "χ": " chi ", "°": "°", "º": "°", "˚": "°", "′": "'", "″": '"',
    }
)  # fmt: skip


#: Greek words in Latin letters; a Greek letter that stands alone is a symbol (see above)
_GREEK = str.maketrans(dict(zip(
    "αβγδεζηθικλμνξοπρσςτυφχψω",
    ("a", "v", "g", "d", "e", "z", "i", "th", "i", "k", "l", "m", "n", "x", "o", "p", "r", "s", "s", "t", "y",
     "f", "ch", "ps", "o"),
    strict=True,
)))  # fmt: skip
#: words of scripts that part no words or have no Latin spelling, in ours: Japanese, Chinese, Korean, Arabic,
#: Hebrew, Hindi. A low line stands for a blank. Source: general knowledge of the languages, from memory
_OTHER_SCRIPTS = {
    "latitude": "緯度 纬度 北緯 北纬 위도 العرض عرض קו_רוחב רוחב अक्षांश",
    "longitude": "経度 經度 经度 東経 东经 東經 경도 الطول طول קו_אורך אורך देशांतर देशान्तर",
    "angle attack": "迎角 迎え角 攻角 받음각 영각 زاوية_الهجوم זווית_התקפה आक्रमण_कोण हमले_का_कोण",
    "altitude": "高度 高さ 海拔 海抜 標高 고도 해발 높이 الارتفاع ارتفاع גובה ऊँचाई ऊंचाई",
    "pressure altitude": "気圧高度 气压高度 氣壓高度 기압고도",
    "radar altitude": "電波高度 无线电高度 無線電高度 雷达高度 雷達高度 対地高度 离地高度 전파고도"
    " 레이더고도",
    "heading": "機首方位 機首方向 船首方位 艦首方位 方位角 方位 航向角 航向 偏航角 偏航 ヨー角 ヨー 艏向"
    " 기수방위 기수방향 기수_방위 함수방위 방위각 방위 침로 الاتجاه اتجاه כיוון शीर्ष_दिशा दिशा",
    "true heading": "真方位 真機首方位 真航向 진방위 진침로 진북방위 الاتجاه_الحقيقي כיוון_אמיתי",
    "magnetic heading": "磁方位 磁気方位 磁機首方位 磁航向 자방위 자북방위 자침로 الاتجاه_المغناطيسي"
    " כיוון_מגנטי चुंबकीय_दिशा",
    "track": "航跡 航迹角 航迹 針路 対地航跡 항적",
    "pitch": "纵摇角 纵摇 縱搖角 縱搖 종요각 종요 ピッチ角 ピッチ 縦揺れ角 縦揺れ 俯仰角 俯仰 仰角 피치각"
    " 피치 종동요 الميل_الطولي زاوية_الميل_الطولي עלרוד पिच",
    "roll": "横摇角 横摇 橫搖角 橫搖 횡요각 횡요 ロール角 ロール バンク角 バンク 横揺れ角 横揺れ 横傾斜"
    " 滚转角 滚转 滾轉角 滾轉 横滚角 横滚 橫滾角 橫滾 傾斜角 倾斜角 坡度 롤각 롤 뱅크각 뱅크 경사각 횡동요"
    " الميل_الجانبي زاوية_الميل_الجانبي الميلان גלגול रोल झुकाव",
    "true airspeed": "真対気速度 真空速 진대기속도 진대기_속도 السرعة_الحقيقية السرعة_الجوية_الحقيقية"
    " מהירות_אמיתית מהירות_אוויר_אמיתית वास्तविक_वायु_गति वास्तविक_वायुगति वास्तविक_गति",
    "indicated airspeed": "指示対気速度 指示空速 指示速度 表速 校正空速 較正対気速度 修正対気速度"
    " 지시대기속도 지시_대기속도 교정대기속도 수정대기속도 السرعة_المبينة السرعة_الجوية_المبينة"
    " מהירות_מכשירית מהירות_אוויר_מכשירית सूचित_वायु_गति संकेतित_वायु_गति सूचित_गति",
    "ground speed": "対地速度 地速 대지속도 지상속도 السرعة_الأرضية מהירות_קרקע भू_गति",
    "ship speed": "船速 艦速 舰速 함속 선속",
    "speed": "対気速度 空速 速度 航速 速率 速力 속도 속력 대기속도 السرعة سرعة מהירות गति वेग चाल",
    "vertical speed": "昇降率 升降率 昇降速度 升降速度 升降速率 昇降計 垂直速度 垂直速率 爬升率 上昇率"
    " 上升率 승강률 승강율 상승률 상승율 수직속도 수직_속도 السرعة_العمودية السرعة_الرأسية معدل_الصعود"
    " מהירות_אנכית קצב_נסיקה ऊर्ध्वाधर_गति आरोहण_दर चढ़ाई_दर",
    "sink rate": "下降率 降下率 下沉率 沈下率 下降速度 降下速度 강하율 하강률 하강율 معدل_الهبوط"
    " معدل_النزول קצב_הנמכה קצב_שקיעה अवरोहण_दर",
    "load factor": "荷重倍数 过载 過載 载荷系数 載荷係數 하중계수 하중배수",
    "time": "タイムスタンプ 時刻 時間 经过时间 経過時間 时间戳 时间 时刻 時戳 타임스탬프 경과시간 시각"
    " 시간 الوقت الزمن وقت زمن זמן समय",
    "throttle": "スロットル 推力レバー 推力 出力 油门杆 油門桿 油门 油門 节流阀 節流閥 功率 스로틀 추력"
    " 출력 الخانق ذراع_القدرة מצערת थ्रॉटल",
    "flaps": "フラップ 襟翼 플랩",
    "landing gear": "降着装置 起落架 랜딩기어 착륙장치",
    "hook": "攔阻鉤 拦阻索钩 着艦フック フック 拦阻钩 攔截鉤 尾钩 尾鉤 着舰钩 着艦鉤 착함후크 후크 훅"
    " الخطاف خطاف וו_עצירה וו_נחיתה हुक",
    "weight on wheels": "接地 轮载 輪載 접지",
    "mass": "質量 质量 重量 질량 중량",
    "fuel": "燃料 燃油 연료",
    "wind direction": "風向 风向 풍향 اتجاه_الرياح כיוון_הרוח पवन_दिशा",
    "wind speed": "風速 风速 풍속 سرعة_الرياح מהירות_הרוח पवन_गति",
    "temperature": "外気温 気温 温度 溫度 气温 온도 기온",
    "sea pressure": "海面気圧 気圧 气压 氣壓 기압",
    "true": "真の الحقيقي الحقيقية אמיתי אמיתית वास्तविक",
    "north": "北 북쪽",
    "east": "東 东 동쪽",
    "south": "南 남쪽",
    "west": "西 서쪽",
    "left": "左 좌측 왼쪽",
    "right": "右 우측 오른쪽",
    "ship": "航空母艦 航空母舰 母艦 母舰 空母 艦船 艦艇 舰船 舰艇 船舶 甲板 艦 航母 舰 船 항공모함 항모"
    " 모함 함선 함정 선박 السفينة سفينة حاملة_الطائرات الحاملة حاملة ספינה אונייה אניה נושאת_מטוסים"
    " विमानवाहक_पोत विमानवाहक जहाज़ जहाज पोत",
    "aircraft": "航空機 飛行機 機体 自機 本機 艦載機 舰载机 飞机 飛機 载机 함재기 항공기 비행기 기체"
    " الطائرة طائرة מטוס हवाई_जहाज़ हवाई_जहाज विमान",
    "angle": "角度 각도 زاوية זווית कोण",
    "deg": "度 درجات درجة מעלות डिग्री",
    "rad": "弧度 ラジアン 라디안 راديان רדיאנים रेडियन",
    "/s": "/초 毎秒 每秒",
    "/min": "/분 毎分 每分钟 每分鐘 每分",
    "/h": "/시 /时 /時 毎時 每小时 每小時",
    "s": "秒 ثانية ثواني שניות שנייה सेकंड सेकेंड",
    "ms": "毫秒 ミリ秒 밀리초",
    "min": "分钟 分鐘 分 دقيقة דקה मिनट",
    "h": "小时 小時 시간당 ساعة שעה घंटा",
    "ft": "フィート 英尺 呎 피트 أقدام قدم רגליים רגל फ़ीट फीट फुट",
    "m": "メートル 公尺 米 미터 أمتار متر מטרים מטר मीटर",
    "km": "キロメートル 千米 公里 킬로미터 كيلومتر किमी",
    "kt": "ノット 节 節 노트 عقدة קשרים קשר नॉट",
    "pct": "パーセント 百分比 퍼센트 प्रतिशत",
}
#: words that are too short to be looked for inside others
_ALONE = {"độ": "deg", "도": "deg", "초": "s", "분": "min"}
_MARK = re.compile("[\u0300-\u036f]+")
_GREEK_WORD = re.compile("[\u0370-\u03ff\u1f00-\u1fff]{3,}")


#: how an umlaut is written without one
_DOUBLE = (("ae", "a"), ("oe", "o"), ("ue", "u"))


@cache
def _other_words() -> dict[str, str]:
    return {
        unicodedata.normalize("NFC", word.replace("_", " ")): f" {ours} "
        for ours, words in _OTHER_SCRIPTS.items()
        for word in words.split()
    }


@cache
def _other_word() -> re.Pattern[str]:
    return re.compile("|".join(sorted(map(re.escape, _other_words()), key=len, reverse=True)))


def _in_latin(word: re.Match[str]) -> str:
    bare = _MARK.sub("", unicodedata.normalize("NFKD", word[0]))
    return bare.translate(_GREEK)


def folded(text: str) -> str:
    """Fold a text: small letters, Latin script, no accents, ``ae oe ue`` as ``a o u``.

    >>> folded("Höhe"), folded("Hoehe"), folded("Высота")
    ('hohe', 'hohe', 'vysota')
    """
    if text.isascii():
        return _without_umlauts(text.casefold())
    text = unicodedata.normalize("NFC", text)
    text = _ALONE.get(text.strip(), text)
    if any("\u0590" <= letter < "\u1e00" or letter > "\u3000" for letter in set(text)):
        words = _other_words()
        text = _other_word().sub(lambda found: words[found[0]], text)
    small = _GREEK_WORD.sub(_in_latin, text.casefold()).translate(_LATIN)
    # the breve and the umlaut of composed letters go, the letters themselves were Latin by now
    plain = _MARK.sub("", unicodedata.normalize("NFKD", small))
    plain = _without_umlauts(plain)
    return plain if plain.isascii() else plain.translate(_LATIN)


def _without_umlauts(text: str) -> str:
    for pair, letter in _DOUBLE:
        text = text.replace(pair, letter)
    return text

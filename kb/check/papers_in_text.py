"""Find in plain text the numbers of papers, customers, accounts and vehicles.

A number is found behind the word that says what it is. Every pattern is bounded or goes over a text
once. How people write these things is common practice, no source.
"""

from __future__ import annotations

import re

from .forms_in_text import Found

_VEHICLE = (
    r"(?:vans?|cars?(?! ?parks?)|lorry|ute|bakkie|estate|truck|pick-?up|hatchback|saloon|sedan"
    r"|trailer|vehicle|motorbike|reg|registration|rego|(?:number |licen[cs]e )plates?"
    r"|kennzeichen|kfz|kombi|wagen|transporter|lieferwagen|anhänger|parkplatz)"
)
_PLATE = re.compile(
    rf"\b{_VEHICLE}\b[^\n]{{0,40}}?(?<![\w-])(?-i:[A-Z]{{2}}\d\d[ -]?[A-Z]{{3}}"
    r"|[A-ZÄÖÜ]{1,3}[- ][A-ZÄÖÜ]{1,2}[- ]?\d{2,4}|[A-Z]{2,3}[ -]\d{2,3}[ -][A-Z]{2,3}"
    r"|[A-Z]{3}[ -]\d[A-Z\d]\d{1,2}|\d{2,3}-[A-Z]{1,2}-\d{2,6}|\d[A-Z]{2}[ .·]\d[A-Z]{2})"
    r"(?![\w.])(?!-\d)",
    re.IGNORECASE,
)
_PLATE_DE = re.compile(r"(?<![\w-])[A-ZÄÖÜ]{1,3}-[A-ZÄÖÜ]{1,2} \d{3,4}(?![\w.-])")
_PAPER = re.compile(
    r"\b(?:(?-i:PPSN|NINO|SSN|SIN|TFN|ABN|UTR|PAN|AHV)(?:-?nr)?|(?:his|her|my|wants) (?-i:NI|PPS)"
    r"|(?-i:NI) (?:number|no)|national insurance(?: number| no)?"
    r"|social(?: security)?(?: number| no)?|passport(?: number| no)?|visa(?: number| no)?"
    r"|(?:driver'?s?|driving) licen[cs]e(?: number| no)?|ID(?: card)?(?: number| no)"
    r"|identity (?:card|number)"
    r"|tax (?:ID|number|no|code|file number)|medicare(?: number| no)?|NHS number|aadhaar"
    r"|steuer-?(?:id(?:nr)?|nummer|nr)|sozialversicherungs-?(?:nummer|nr)|SV-?(?:nummer|nr)"
    r"|personalausweis(?:nummer|nr)?|ausweis-?(?:nummer|nr)|reisepass(?:nummer|nr)?"
    r"|führerschein(?:nummer|nr)?"
    r"|krankenkasse|versicherten-?(?:nummer|nr)|rentenversicherungs-?(?:nummer|nr))\b\.?"
    r"[^\n\d]{0,36}?(?P<number>(?:[A-Z]{1,3} ?)?\d(?:[ .\-/]?[A-Z0-9]){4,16})(?!\w)",
    re.IGNORECASE,
)
_CUSTOMER = re.compile(
    r"\b(?:customer(?: acc\w*)?|cust|client|acct|account|a/c|contract|policy|insurance"
    r"|membership|member|tenancy|tenant"
    r"|patient|kunden|vertrags|versicherungs|policen|mitglieds|patienten)"
    r"(?:[ .-]{0,2}(?:ref(?:erence)?|no|nos|number|num|nr|nummer|id|code)\b|[ ]?#)"
    r"[^\d\n]{0,20}?(?<![A-Z])"
    r"(?P<number>#?(?:[A-Z]{1,4}[ /-]?)?\d(?:[ .\-/]?[A-Z0-9]){3,16})(?!\w)"
    r"|\b(?:contract|policy|claim|vertrag|police|schadensnummer)(?: (?:ref|no|nr)\.?)?(?: is"
    r"| ist|:)? "
    r"(?:[A-Z]{1,4}[/-])?\d{2,8}[/-]\d{2,8}(?:[/-]\w{1,8})?(?!\w)",
    re.IGNORECASE,
)
_ACCOUNT = re.compile(
    r"\bBIC\b[: ]{1,2}[A-Z]{6}[A-Z0-9]{2,5}\b|\bsort code[: ]{1,2}\d\d-\d\d-\d\d\b|"
    r"\bBSB\b\W{0,4}\d{3}[ -]?\d{3}\b"
    r"|\bIBAN\b\W{0,4}(?:(?:is|ist|lautet) )?[A-Z]{2}\d{2}(?:[ -]?[A-Z0-9]){8,30}"
    r"|\b[A-Z]{2}\d{2}-[A-Z0-9]{4}(?:-[A-Z0-9]{1,4}){2,7}\b"
    r"|\b(?:acc(?:oun)?t|a/c|routing|transit|konto|kontonummer|BLZ)\b\.?(?:[ ]?(?:no|number"
    r"|nr)\b\.?)?"
    r"[^\w\n]{0,4}\d(?:[ -]?\d){6,16}(?!\w)"
    r"|\b(?:card|karte)\b[^\n\d]{0,24}\d{4}[ -]?\d{4}[ -]?\d{4}[ -]?\d{1,4}(?!\w)"
    r"|\b(?:CVC|CVV)\b\W{0,3}(?:is )?\d{3,4}\b",
    re.IGNORECASE,
)
_VEHICLES = (
    *("van", "car", "lorry", "ute", "truck", "pick", "hatch", "saloon", "sedan", "trailer"),
    *("vehicle", "bike", "reg", "plate", "tag", "kennz", "kfz", "kombi", "wagen", "auto"),
    *("transporter", "anhänger", "bulli"),
)
_PARKED = ("park", "steht", "fährt", "hof", "auto", "wagen", "leiter")
_CUSTOMERS = (
    *("customer", "cust", "client", "acct", "account", "a/c", "contract", "policy", "insurance"),
    *("member", "tenan", "claim", "vertrag", "police", "schaden", "patient", "kunden"),
    *("versicherung", "policen", "mitglied"),
)
_ACCOUNTS = (
    *("bic", "sort code", "bsb", "iban", "acct", "account", "a/c", "routing", "transit", "konto"),
    *("blz", "card", "karte", "cvc", "cvv", "-"),
)
_DIGIT = re.compile(r"\d")
_FEWEST_DIGITS = 2


def papers_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever numbers in a text belong to somebody."""
    if len(_DIGIT.findall(text)) < _FEWEST_DIGITS:
        return
    folded = text.casefold()
    if any(map(folded.__contains__, _VEHICLES)):
        yield from (("a vehicle's number", *found.span()) for found in _PLATE.finditer(text))
    if any(map(folded.__contains__, _PARKED)):
        yield from (("a vehicle's number", *found.span()) for found in _PLATE_DE.finditer(text))
    for found in _PAPER.finditer(text):
        yield "the number of somebody's paper", *found.span()
    if any(map(folded.__contains__, _CUSTOMERS)):
        for found in _CUSTOMER.finditer(text):
            yield "a customer's number", *found.span()
    if any(map(folded.__contains__, _ACCOUNTS)):
        yield from (("a bank account", *found.span()) for found in _ACCOUNT.finditer(text))

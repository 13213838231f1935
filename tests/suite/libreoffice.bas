' What a person does in LibreOffice: types answers into an answer workbook, or marks
' and initials into a results workbook, sorts, filters, hides and inserts, and saves
' in every format.

' Types answers into the cells as they are, and into cells of no format of their own,
' where LibreOffice changes them; then moves everything about.
Sub Answer
  On Error Goto Failed
  book = Opened("answers.xlsx")
  TypesAll(book)
  SavesAll(book, "text")
  book.close(True)
  book = Opened("answers.xlsx")
  sheet = book.Sheets.getByName("Answers")
  ' The whole table below the headings, and the columns below it, as by pasting.
  sheet.getCellRangeByPosition(2, 5, 60, 200).NumberFormat = 0
  TypesAll(book)
  SavesAll(book, "general")
  MovesAbout(book)
  SavesAll(book, "moved")
  book.close(True)
Failed:
  If Err <> 0 Then Tells(Error$ + " in line " + Erl)
  StarDesktop.terminate()
End Sub

' Leaves word of a fault beside the files.
Sub Tells(fault)
  number = FreeFile
  Open ConvertFromURL("FOLDER/fault.txt") For Output As #number
  Print #number, fault
  Close #number
End Sub

Function Opened(file)
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  Opened = StarDesktop.loadComponentFromURL("FOLDER/" + file, "_blank", 0, hidden())
End Function

' The file has a line for each answer: column and row from nought, and the keys.
Sub TypesAll(book)
  sheet = book.Sheets.getByName("Answers")
  files = createUnoService("com.sun.star.ucb.SimpleFileAccess")
  lines = createUnoService("com.sun.star.io.TextInputStream")
  lines.setInputStream(files.openFileRead("FOLDER/keys.txt"))
  lines.setEncoding("UTF-8")
  dispatcher = createUnoService("com.sun.star.frame.DispatchHelper")
  Dim keys(0) As New com.sun.star.beans.PropertyValue
  keys(0).Name = "StringName"
  While Not lines.isEOF()
    pieces = Split(lines.readLine(), Chr(9))
    If UBound(pieces) = 2 Then
      book.CurrentController.select(sheet.getCellByPosition(CLng(pieces(0)), CLng(pieces(1))))
      keys(0).Value = pieces(2)
      dispatcher.executeDispatch(book.CurrentController.Frame, ".uno:EnterString", "", 0, keys())
    End If
  Wend
  lines.closeInput()
End Sub

' Sorted downwards, two columns and three rows inserted, one column moved to the front,
' a column and a row hidden, another worksheet before it.
Sub MovesAbout(book)
  sheet = book.Sheets.getByName("Answers")
  last = 5
  While sheet.getCellByPosition(0, last + 1).String > ""
    last = last + 1
  Wend
  table = sheet.getCellRangeByPosition(0, 4, 60, last)
  Dim fields(0) As New com.sun.star.table.TableSortField
  fields(0).Field = 0
  fields(0).IsAscending = False
  Dim sorting(1) As New com.sun.star.beans.PropertyValue
  sorting(0).Name = "SortFields"
  sorting(0).Value = fields()
  sorting(1).Name = "ContainsHeader"
  sorting(1).Value = True
  table.sort(sorting())
  sheet.Columns.insertByIndex(0, 2)
  source = sheet.getCellRangeByPosition(4, 0, 4, last).RangeAddress
  sheet.moveRange(sheet.getCellByPosition(0, 0).CellAddress, source)
  sheet.Rows.insertByIndex(1, 3)
  sheet.getCellByPosition(1, 2).String = "typed in on Tuesday"
  sheet.Columns.getByIndex(3).IsVisible = False
  sheet.Rows.getByIndex(9).IsVisible = False
  book.Sheets.insertNewByName("Seats", 1)
  book.Sheets.getByName("Seats").getCellByPosition(0, 0).String = "Who sits where"
End Sub

Sub SavesAll(book, file)
  Save(book, file, "calc8", "ods")
  Save(book, file, "MS Excel 97", "xls")
  Save(book, file, "Calc MS Excel 2007 XML", "xlsx")
  Save(book, file, "Text - txt - csv (StarCalc)", "csv")
End Sub

' Types marks and initials into a results workbook.
Sub Decide
  ' A fault must not leave the program waiting for somebody to read of it.
  On Error Goto Failed
  book = Opened("marked.xlsx")
  check = book.Sheets.getByName("To check")
  Types(check, "Answer", "12 no 8", "", "", "Your mark", "1")
  Types(check, "Answer", "12 no 8", "", "", "Decided by", "AB")
  Types(check, "Answer", "the rusty one i think", "", "", "Your mark", "1")
  marks = book.Sheets.getByName("Marks")
  Types(marks, "Pupil ID", "P2", "Question", "Q6", "Changed mark", "2")
  Types(marks, "Pupil ID", "P2", "Question", "Q6", "Decided by", "CD")
  Rearrange(check)
  Rearrange(marks)
  Save(book, "saved", "calc8", "ods")
  Save(book, "saved", "MS Excel 97", "xls")
  Save(book, "saved", "Calc MS Excel 2007 XML", "xlsx")
  book.close(True)
Failed:
  If Err <> 0 Then Tells(Error$ + " in line " + Erl)
  StarDesktop.terminate()
End Sub

Function HeadingRow(sheet)
  For row = 0 To 20
    For column = 0 To 10
      If sheet.getCellByPosition(column, row).String = "Question" Then
        HeadingRow = row
        Exit Function
      End If
    Next
  Next
End Function

Function ColumnOf(sheet, heading)
  ColumnOf = -1
  row = HeadingRow(sheet)
  For column = 0 To 30
    If sheet.getCellByPosition(column, row).String = heading Then ColumnOf = column
  Next
End Function

Function LastRow(sheet)
  row = HeadingRow(sheet)
  code = ColumnOf(sheet, "Code")
  While sheet.getCellByPosition(code, row + 1).String > ""
    row = row + 1
  Wend
  LastRow = row
End Function

Sub Types(sheet, firstHeading, firstText, secondHeading, secondText, heading, typed)
  firstColumn = ColumnOf(sheet, firstHeading)
  secondColumn = ColumnOf(sheet, secondHeading)
  typedColumn = ColumnOf(sheet, heading)
  For row = HeadingRow(sheet) + 1 To LastRow(sheet)
    isMeant = (sheet.getCellByPosition(firstColumn, row).String = firstText)
    If secondHeading > "" Then
      isMeant = isMeant And (sheet.getCellByPosition(secondColumn, row).String = secondText)
    End If
    ' As if typed: a number becomes a number where the cell's format lets it.
    If isMeant Then sheet.getCellByPosition(typedColumn, row).setFormula(typed)
  Next
End Sub

Sub Rearrange(sheet)
  top = HeadingRow(sheet)
  bottom = LastRow(sheet)
  table = sheet.getCellRangeByPosition(0, top, ColumnOf(sheet, "Code"), bottom)
  Dim fields(0) As New com.sun.star.table.TableSortField
  fields(0).Field = ColumnOf(sheet, "Question")
  fields(0).IsAscending = False
  Dim sorting(1) As New com.sun.star.beans.PropertyValue
  sorting(0).Name = "SortFields"
  sorting(0).Value = fields()
  sorting(1).Name = "ContainsHeader"
  sorting(1).Value = True
  table.sort(sorting())
  ' A filter leaves one question in sight.
  filter = table.createFilterDescriptor(True)
  Dim conditions(0) As New com.sun.star.sheet.TableFilterField
  conditions(0).Field = ColumnOf(sheet, "Question")
  conditions(0).IsNumeric = False
  conditions(0).StringValue = "Q5"
  conditions(0).Operator = com.sun.star.sheet.FilterOperator.EQUAL
  filter.setFilterFields(conditions())
  filter.ContainsHeader = True
  table.filter(filter)
  sheet.Columns.getByIndex(ColumnOf(sheet, "Answer")).IsVisible = False
  ' Two columns of the person's own, one before and one between.
  sheet.Columns.insertByIndex(ColumnOf(sheet, "Out of"), 1)
  sheet.Columns.insertByIndex(0, 1)
  sheet.Rows.insertByIndex(1, 1)
  sheet.getCellByPosition(0, 1).String = "looked through on Tuesday"
End Sub

Sub Save(book, file, filter, ending)
  Dim stored(1) As New com.sun.star.beans.PropertyValue
  stored(0).Name = "FilterName"
  stored(0).Value = filter
  ' For csv: comma, quotation mark, UTF-8; as shown.
  stored(1).Name = "FilterOptions"
  If ending = "csv" Then stored(1).Value = "44,34,76"
  book.storeToURL("FOLDER/" + file + "." + ending, stored())
End Sub

' What a person does in LibreOffice with a results workbook: types marks and
' initials, sorts, filters, hides and inserts, and saves in three formats.

Sub Work
  ' A fault must not leave the program waiting for somebody to read of it.
  On Error Goto Failed
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  book = StarDesktop.loadComponentFromURL("FOLDER/marked.xlsx", "_blank", 0, hidden())
  check = book.Sheets.getByName("To check")
  Types(check, "Answer", "12 no 8", "", "", "Your mark", "1")
  Types(check, "Answer", "12 no 8", "", "", "Decided by", "AB")
  Types(check, "Answer", "the rusty one i think", "", "", "Your mark", "1")
  marks = book.Sheets.getByName("Marks")
  Types(marks, "Pupil ID", "P2", "Question", "Q6", "Changed mark", "2")
  Types(marks, "Pupil ID", "P2", "Question", "Q6", "Decided by", "CD")
  Rearrange(check)
  Rearrange(marks)
  Save(book, "calc8", "ods")
  Save(book, "MS Excel 97", "xls")
  Save(book, "Calc MS Excel 2007 XML", "xlsx")
  book.close(True)
Failed:
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

Sub Save(book, filter, ending)
  Dim stored(0) As New com.sun.star.beans.PropertyValue
  stored(0).Name = "FilterName"
  stored(0).Value = filter
  book.storeToURL("FOLDER/saved." + ending, stored())
End Sub

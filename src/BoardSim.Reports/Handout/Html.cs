using System.Net;
using System.Text;
using BoardSim.Reports.Figures;

namespace BoardSim.Reports.Handout;

/// <summary>Builds a page out of elements; every text and attribute that goes through here is escaped.</summary>
internal sealed class Html
{
    private readonly StringBuilder text = new();

    /// <summary>Escapes text for a page; the units of its values come as print has them.</summary>
    public static string Escape(string text) => WebUtility.HtmlEncode(Engineering.PrintText(text));

    /// <summary>Adds markup written by this program.</summary>
    public Html Raw(string markup)
    {
        text.Append(markup).Append('\n');
        return this;
    }

    /// <summary>Adds an element with text; nothing when the text is empty.</summary>
    public Html Element(string tag, string content, string attributes = "") =>
        content.Length == 0 ? this : Raw($"<{tag}{(attributes.Length == 0 ? "" : " " + attributes)}>{Escape(content)}</{tag}>");

    /// <summary>Adds a list; nothing when it is empty.</summary>
    public Html List(IEnumerable<string> items)
    {
        var lines = items.Select(item => $"<li>{Escape(item)}</li>").ToList();
        return lines.Count == 0 ? this : Raw($"<ul>{string.Concat(lines)}</ul>");
    }

    /// <summary>Adds a table whose first column is a heading of its row; cells that hold values are lined up to the right.</summary>
    public Html Table(IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<string>> rows, int textColumns = 1)
    {
        Raw("<div class=\"wide\"><table><thead><tr>" + string.Concat(heads.Select((head, k) => $"<th scope=\"col\"{Number(k)}>{Escape(head)}</th>")) + "</tr></thead><tbody>");
        foreach (var row in rows)
            Raw("<tr>" + string.Concat(row.Select((cell, k) => k == 0
                ? $"<th scope=\"row\">{Escape(cell)}</th>"
                : $"<td{Number(k)}>{Escape(cell)}</td>")) + "</tr>");
        return Raw("</tbody></table></div>");

        string Number(int column) => column >= textColumns ? " class=\"number\"" : "";
    }

    public override string ToString() => text.ToString();
}
